import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import PostalMime from "postal-mime";
import type { MailServer } from "../../src/outputs/phones/ways/mail-server.ts";
import { MailWay } from "../../src/outputs/phones/ways/mail-way.ts";
import { Exim, PASSWORD, USER } from "../support/exim.ts";
import { needs } from "../support/needs.ts";
import { ALARM } from "../support/way-conformance.ts";

const never = new AbortController().signal;

/** Exim begins as root, and does not begin as anybody else. */
const withExim = Deno.uid() === 0 ? needs("exim") : describe.skip;

withExim("a mail server as boats meet it", () => {
  let folder: string;
  let exim: Exim;

  beforeAll(async () => {
    folder = Deno.makeTempDirSync({ prefix: "sternfast-exim-" });
    exim = await Exim.start(folder);
  });
  afterAll(async () => {
    await exim.stop();
    Deno.removeSync(folder, { recursive: true });
  });

  function send(
    by: "smtps" | "smtp",
    { to = "ellen@boat.example", ...more }: Partial<MailServer> & { to?: string } = {},
  ) {
    const server: MailServer = {
      address: `${by}://127.0.0.1:${exim.ports[by]}`,
      user: USER,
      password: PASSWORD,
      authority: exim.authority,
      from: "hazel-comfort@boat.example",
      ...more,
    };
    return new MailWay({ name: "mail", to, server, wall: () => ALARM.time }).send(ALARM, never);
  }

  test.each(["smtps", "smtp"] as const)("takes an alarm by %s, and brings it", async (by) => {
    const before = exim.box.length;
    expect(await send(by)).toEqual({ kind: "accepted" });
    await vi.waitUntil(() => exim.box.length > before, { timeout: 20_000, interval: 20 });
    const mail = await PostalMime.parse(exim.box[0]);
    expect(mail).toMatchObject({
      from: { name: "Hazel Comfort", address: "hazel-comfort@boat.example" },
      messageId: `<${ALARM.key}@boat.example>`,
    });
    expect(mail.text).toContain("Port oil pressure".toLowerCase());
    expect(mail.headers.find(({ key }) => key === "received")?.value).toMatch(/esmtpsa.*TLS/s);
  });

  test.each([
    ["a wrong password", { password: "wr0ng" }, "refused the user and password with 535"],
    ["nobody's name", { user: undefined }, "answered 530"],
    ["somebody whom it does not serve", { to: "x@elsewhere.example" }, "answered 550"],
  ])("refuses %s, and says so", async (_, more, why) => {
    expect(await send("smtp", more)).toEqual({ kind: "refused", why: `127.0.0.1 ${why}` });
  });

  test("is told nothing where its certificate is not trusted", async () => {
    expect(await send("smtps", { authority: undefined })).toEqual({
      kind: "try-again",
      why: "127.0.0.1 has a certificate that this computer does not trust",
    });
  });
});
