import { expect, test, vi } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { PageVisitor } from "../support/page-visitor.ts";
import { PhoneService } from "../support/phone-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, type Running, start } from "../support/sternfast.ts";

const waiting = { timeout: 45_000, interval: 20 };

/** A boat with one engine, the example's engine rules, one person, and a page behind a passphrase. */
function boatFolder(phone: string): string {
  return ownFolder({
    "sternfast.yaml": `
input: "-"
boat: boat.yaml
rules: ${ROOT}/examples/hazel-comfort/rules/engines.yaml
state: state
page:
  address: 127.0.0.1:0
  act: { file: passphrase }
  answer-address: https://boat.example
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone}" }] }
`,
    "passphrase": "four small tarred ropes\n",
    "boat.yaml": `boat: dora
engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }
`,
  });
}

async function pageOf(boat: Running): Promise<PageVisitor> {
  const said = await boat.until(/The page is at \S+/);
  return new PageVisitor(/The page is at (\S+)/.exec(said)?.[1] ?? "");
}

/** The path of a link in the message that the phone took last. */
function linkIn(phone: PhoneService, action: string): string {
  const whole = JSON.stringify(phone.taken.at(-1)?.message);
  const links = [...whole.matchAll(/https:\/\/boat\.example\/answer\/([\w.-]+)/g)];
  const found = links.map(([link]) => new URL(link).pathname.slice(1)).find((path) =>
    atob(path.split("/")[1].split(".")[0].replaceAll("-", "+").replaceAll("_", "/"))
      .includes(`"${action}"`)
  );
  if (found === undefined) throw new Error(`no link to ${action} in ${whole}`);
  return found;
}

function raisedIn({ taken }: PhoneService): number {
  return taken.filter(({ message }) => message.about === "raised").length;
}

test("a link shows on GET, acts once on POST, and says politely when there is nothing left to do", async () => {
  const phone = new PhoneService();
  const folder = boatFolder(phone.url);
  const loss = new SpokenRecording()
    .engine(0, 60, { speed: 2500, oil: 45 })
    .engine(60, 66, { speed: 2500, oil: 2 });
  const boat = await start(["run"], { folder, input: "piped" });
  const scanner = await pageOf(boat);
  await boat.type(loss.text);
  await vi.waitUntil(() => phone.taken.length === 1, waiting);
  const link = linkIn(phone, "have-it");

  for (let i = 0; i < 3; i++) {
    const seen = await scanner.get(link);
    const text = await seen.text();
    expect([seen.status, text.includes("not yet answered")]).toEqual([200, true]);
    expect(text).toContain("I have it</button>");
    expect(text).toContain("Answers as Ellen. Nothing happens before you press it.");
  }
  const pressed = await scanner.post(link, {});
  expect(await pressed.text()).toContain("You have it. Nobody else is called now.");
  await boat.until(/Answered by Ellen/);
  const again = await scanner.post(link, {});
  expect([again.status, await again.text()]).toEqual([
    200,
    expect.stringContaining("It is answered already. Nothing is left to do here."),
  ]);

  const forged = await scanner.post(link.replace(/.$/, (last) => last === "A" ? "B" : "A"), {});
  expect([forged.status, await forged.text()]).toEqual([
    410,
    expect.stringContaining("This boat did not make that link"),
  ]);

  const anew = new SpokenRecording(loss.begins + 66_000_000)
    .engine(0, 60, { speed: 2500, oil: 45 })
    .engine(60, 66, { speed: 2500, oil: 2 });
  await boat.type(anew.text);
  await vi.waitUntil(() => raisedIn(phone) === 2, waiting);
  const old = await scanner.post(link, {});
  expect(await old.text()).toContain("It has risen again since");

  // Restarted with the same state folder, the boat still knows its links.
  const newer = linkIn(phone, "have-it");
  boat.interrupt();
  await boat.finished();
  const second = await start(["run"], { folder, input: "piped" });
  const later = await pageOf(second);
  expect(await (await later.post(newer, {})).text()).toContain(
    "You have it. Nobody else is called now.",
  );
  expect(Deno.statSync(`${folder}/state/answer-key`).mode! & 0o777).toBe(0o600);
  second.interrupt();
  await second.finished();
});
