import { describe, expect, onTestFinished, test } from "vitest";
import { MailWay } from "../../src/outputs/phones/ways/mail-way.ts";
import { MailService, PASSWORD, USER } from "../support/mail-service.ts";
import { ALARM, describeWay, micros } from "../support/way-conformance.ts";

// The far side is a real SMTP server, with TLS and authentication; what came is read by a parser that
// knows nothing of how it was written.

const FROM = "hazel-comfort@boat.example";
const TO = "ellen@boat.example";
const never = new AbortController().signal;

interface Changes {
  readonly password?: string;
  readonly authority?: string;
  readonly patience?: number;
}

function wayTo({ address, authority }: MailService, changes: Changes = {}): MailWay {
  return new MailWay({
    name: "mail",
    to: TO,
    server: { address, user: USER, password: PASSWORD, authority, from: FROM, ...changes },
    patience: micros(changes.patience ?? 20_000),
    wall: () => ALARM.time,
  });
}

function folder(): string {
  return Deno.makeTempDirSync({ prefix: "sternfast-" });
}

for (const secure of [true, false]) {
  describeWay(secure ? "mail by TLS" : "mail by STARTTLS", async () => {
    const place = folder();
    const service = await MailService.start(place, secure);
    const release = Promise.withResolvers<void>();
    let stopped: Promise<void> | undefined;
    const stop = () => stopped ??= service.stop();
    return {
      way: (patience) => wayTo(service, { patience }),
      async next(far) {
        if (far === "not-now") service.answers.push(451);
        if (far === "refuses") service.answers.push(554);
        if (far === "hangs") service.held = release.promise;
        if (far === "is-gone") await stop();
      },
      taken: () =>
        service.received.map(({ mail }) => ({
          key: /^<(.+)@boat\.example>$/.exec(mail.messageId ?? "")?.[1] ?? "",
          text: mail.text ?? "",
          headerNames: mail.headers.map(({ key }) => key),
        })),
      secrets: [PASSWORD, USER, TO],
      async stop() {
        release.resolve();
        await stop();
        Deno.removeSync(place, { recursive: true });
      },
    };
  }, false);
}

describe("mail", () => {
  async function opened(): Promise<MailService> {
    const place = folder();
    const service = await MailService.start(place, true);
    onTestFinished(async () => {
      await service.stop();
      Deno.removeSync(place, { recursive: true });
    });
    return service;
  }

  test("is plain text from the boat, with its answers as links and no wish for a reply", async () => {
    const service = await opened();
    await wayTo(service).send(ALARM, never);
    const [{ mail, to }] = service.received;
    expect(to).toEqual([TO]);
    expect(mail.from).toMatchObject({ name: "Hazel Comfort", address: FROM });
    expect(mail.to).toMatchObject([{ name: "Ellen", address: TO }]);
    expect(mail.subject).toBe(
      "Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31.",
    );
    expect(mail.text).toBe(
      `${ALARM.text}\n\nI have it:\nhttps://boat.example/answer/one\n\nI know of it:\n` +
        "https://boat.example/answer/two\n",
    );
    expect(mail.html).toBeUndefined();
    expect(mail.date).toBe("2026-06-14T13:31:20.000Z");
    expect(mail.headers).toContainEqual(
      expect.objectContaining({ key: "auto-submitted", value: "auto-generated" }),
    );
  });

  test("goes to the owner's address alone, whatever a name says", async () => {
    const service = await opened();
    const person = "Ellen <b@c.example>, d@e.example\r\nBcc: f@g.example";
    await wayTo(service).send({ ...ALARM, person }, never);
    const [{ mail, to }] = service.received;
    expect(to).toEqual([TO]);
    expect(mail.to).toHaveLength(1);
    expect(mail.to?.[0].address).toBe(TO);
    expect(mail.bcc).toBeUndefined();
  });

  test("is refused where the password is wrong, and does not say the password", async () => {
    const service = await opened();
    const outcome = await wayTo(service, { password: "wr0ng" }).send(ALARM, never);
    expect(outcome).toEqual({
      kind: "refused",
      why: "127.0.0.1 refused the user and password with 535",
    });
  });

  test("says nothing to a server whose certificate nobody has signed", async () => {
    const service = await opened();
    const outcome = await wayTo(service, { authority: undefined }).send(ALARM, never);
    expect(outcome).toEqual({
      kind: "try-again",
      why: "127.0.0.1 has a certificate that this computer does not trust",
    });
    expect(service.received).toEqual([]);
  });
});
