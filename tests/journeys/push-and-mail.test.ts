import { join } from "node:path";
import { expect, onTestFinished, test, vi } from "vitest";
import { PushDeviceFile } from "../../src/commands/watching/push-device-file.ts";
import { MailService, PASSWORD, USER } from "../support/mail-service.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PushService } from "../support/push-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, start, sternfast } from "../support/sternfast.ts";

const waiting = { timeout: 45_000, interval: 20 };

async function services() {
  const places = [ownFolder(), ownFolder()];
  const mail = await MailService.start(places[0], true);
  onTestFinished(() => mail.stop());
  const push = new PushService(places[1]);
  onTestFinished(() => push.stop());
  return { mail, push, certificates: join(places[1], "authority.crt") };
}

/** Ellen has a phone that asked to be told, Tom has mail. */
async function boatFolder(mail: MailService, push: PushService): Promise<string> {
  const folder = ownFolder({
    "sternfast.yaml": `
input: "-"
boat: boat.yaml
rules: ${ROOT}/examples/hazel-comfort/rules/engines.yaml
state: state
people:
  - { name: Ellen, reach: [{ push: ellen@boat.example }] }
  - { name: Tom, reach: [{ mail: tom@boat.example }] }
mail:
  server: ${mail.address}
  user: ${USER}
  password: { file: mail-password }
  authority: { file: authority.crt }
  from: dora@boat.example
`,
    "boat.yaml": `boat: dora
units: { pressure: psi }
engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }
`,
    "mail-password": `${PASSWORD}\n`,
    "authority.crt": mail.authority,
  });
  Deno.chmodSync(join(folder, "mail-password"), 0o600);
  await Deno.mkdir(join(folder, "state"));
  await new PushDeviceFile(join(folder, "state")).write([
    { person: "Ellen", subscription: push.subscribe("phone") },
    { person: "Ellen", subscription: push.subscribe("old-phone") },
  ]);
  return folder;
}

test("an alarm comes by push and by mail with a picture, and hail proves both ways", async () => {
  const { mail, push, certificates } = await services();
  const folder = await boatFolder(mail, push);
  const env = { DENO_CERT: certificates };

  const run = await start(["run"], { folder, input: "piped", env });
  const story = new SpokenRecording()
    .engine(0, 60, { speed: 2500, oil: 45 })
    .engine(60, 80, { speed: 2500, oil: 2 });
  await run.type(story.text);
  await vi.waitUntil(() => push.received.length === 2 && mail.received.length === 1, waiting);
  const [{ payload, headers }] = push.received;
  expect(payload.title).toBe("Dora, ALARM");
  expect(payload.body).toMatch(/^Port oil pressure .*psi.*limit/);
  expect(headers.get("Topic")).toBe(payload.tag);

  const [{ mail: { subject, text, attachments }, to }] = mail.received;
  expect(to).toEqual(["tom@boat.example"]);
  expect(subject).toMatch(/^Dora, ALARM: port oil pressure/);
  expect(text).toMatch(/The picture: port oil pressure from \d\d:\d\d .*psi, a tick a minute; the/);
  const [{ mimeType, content }] = attachments;
  expect(mimeType).toBe("image/png");
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  // The signature of PNG (RFC 2083, section 3.1).
  expect([...new Uint8Array(bytes).subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);

  // Beside the program that watches, which keeps its devices and lets none of them go for a test.
  push.answers.push({ status: 410 });
  const during = await sternfast(["hail"], { folder, env });
  expect(during.out).toBe("Ellen, push: accepted\nTom, mail: accepted\n");
  expect(during.error).toContain("A device of Ellen's has ended its push messages");
  run.interrupt();
  const { out, error } = await run.finished();
  for (const secret of [PASSWORD, "s3cret"]) expect(out + error).not.toContain(secret);
  for (const file of ["push-key", "push-devices"]) {
    expect((Deno.statSync(join(folder, "state", file)).mode ?? 0) & 0o777).toBe(0o600);
  }
  const before = push.received.length;
  await sternfast(["hail"], { folder, env });
  expect(push.received.length - before).toBe(2);
});
