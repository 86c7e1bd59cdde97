import { expect, onTestFinished, test, vi } from "vitest";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PageVisitor } from "../support/page-visitor.ts";
import { PhoneService } from "../support/phone-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, start } from "../support/sternfast.ts";

const waiting = { timeout: 45_000, interval: 50 };

/** A boat whose page nobody ashore can reach: its links lead to the shore's page. */
function boatFolder(broker: string, phone: string): string {
  return ownFolder({
    "sternfast.yaml": `
input: "-"
boat: boat.yaml
rules: ${ROOT}/examples/hazel-comfort/rules/engines.yaml
state: state
mqtt: { broker: "${broker}" }
page: { answer-address: https://shore.example }
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone}" }] }
`,
    "boat.yaml": `boat: dora
engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }
`,
  });
}

test.skipIf(!hasMosquitto())(
  "a link that leads to the shore's page is carried to the boat, which alone can prove it",
  async () => {
    const broker = await Mosquitto.start();
    onTestFinished(() => broker.stop());
    const phone = new PhoneService();
    const shore = await start(
      ["ashore", "--broker", broker.url, "--state", "shore", "--page", "127.0.0.1:0"],
      { folder: ownFolder() },
    );
    onTestFinished(() => shore.interrupt());
    const boat = await start(["run"], {
      folder: boatFolder(broker.url, phone.url),
      input: "piped",
    });
    onTestFinished(() => boat.interrupt());
    const loss = new SpokenRecording()
      .engine(0, 60, { speed: 2500, oil: 45 })
      .engine(60, 66, { speed: 2500, oil: 2 });
    await boat.type(loss.text);
    await vi.waitUntil(() => phone.taken.length === 1, waiting);
    const [link] = /https:\/\/shore\.example\/answer\/[\w.-]+/
      .exec(JSON.stringify(phone.taken[0].message)) ?? [""];
    const path = new URL(link).pathname.slice(1);

    const said = await shore.until(/The page of dora is at \S+/);
    const { origin } = new URL(/The page of dora is at (\S+)/.exec(said)?.[1] ?? "");
    const reader = new PageVisitor(`${origin}/`);
    await vi.waitUntil(
      async () => (await (await reader.get(path)).text()).includes("Low oil pressure under load"),
      waiting,
    );
    // Whoever follows it may have made it up: of how the alarm stands the page says nothing.
    expect(await (await reader.get(path)).text()).not.toMatch(/not yet answered|psi|Since/);

    // Whoever writes a token cannot be told from the boat ashore; the boat can tell.
    const forged = path.replace(/.$/, (last) => last === "A" ? "B" : "A");
    const refused = await reader.post(forged, {}, { accept: "application/json" });
    expect([refused.status, await refused.json()]).toEqual([409, {
      accepted: false,
      refused: expect.stringContaining("This boat did not make that link"),
    }]);

    const pressed = await reader.post(path, {}, { accept: "application/json" });
    expect(await pressed.json()).toMatchObject({ accepted: true });
    await boat.until(/Answered by Ellen/);
    // A second press does no harm, and the boat says so.
    const again = await reader.post(path, {}, { accept: "application/json" });
    expect(await again.json()).toMatchObject({
      accepted: false,
      refused: expect.stringContaining("answered already"),
    });
  },
);
