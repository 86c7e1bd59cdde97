import { expect, onTestFinished, test, vi } from "vitest";
import { isoTime, MILLISECOND, MINUTE } from "../../src/ground/time.ts";
import { hasMosquitto, Mosquitto, send } from "../support/mosquitto.ts";
import { PageVisitor } from "../support/page-visitor.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { start } from "../support/sternfast.ts";

const waiting = { timeout: 30_000, interval: 20 };

const LINK = { state: "connected", interval: 300, epoch: "00112233aabbccdd", number: 0 };

/** A boat whose last word lies on the broker, and is older than two of her intervals. */
async function unheardBoat() {
  const broker = await Mosquitto.start();
  onTestFinished(() => broker.stop());
  const service = new PhoneService();
  const folder = ownFolder({
    "sternfast.yaml": [
      `mqtt: { broker: "${broker.url}" }`,
      "state: boats",
      "people:",
      `  - { name: Ellen, reach: [{ post: "${service.url}" }] }`,
    ].join("\n"),
  });
  const time = isoTime(Date.now() * MILLISECOND - 11 * MINUTE, 3);
  const link = JSON.stringify({ ...LINK, time });
  await send(broker.port, "sternfast/hazel-comfort/link", link, "-r");
  return { broker, service, folder };
}

test.skipIf(!hasMosquitto())(
  "a boat that is not heard is told once, over a restart too",
  async () => {
    const { broker, service, folder } = await unheardBoat();
    for (let run = 0; run < 2; run++) {
      const shore = await start(["ashore", "hazel-comfort"], { folder });
      await shore.until(/Connected to/);
      await vi.waitUntil(() => service.taken.length > 0, waiting);
      if (run === 1) {
        await send(
          broker.port,
          "sternfast/hazel-comfort/link",
          JSON.stringify({
            ...LINK,
            time: isoTime(Date.now() * MILLISECOND, 3),
          }),
        );
      }
      if (run === 1) await shore.until(/The boat is heard again/);
      shore.interrupt();
      await shore.finished();
    }
    const texts = service.taken.map(({ message }) => message.text);
    expect(texts[0]).toMatch(
      /^Hazel Comfort, ALARM: No word from the boat, which should speak every 5 min, .* Ask somebody/,
    );
    expect(texts.filter((text) => text.includes("No word from the boat"))).toHaveLength(1);
  },
);

test.skipIf(!hasMosquitto())(
  "the shore's page shows who was told ashore, and sends them a test",
  async () => {
    const { service, folder } = await unheardBoat();
    const shore = await start(["ashore", "hazel-comfort", "--page", "127.0.0.1:0"], { folder });
    const said = await shore.until(/The page of hazel-comfort is at \S+/);
    const page = new PageVisitor(/is at (\S+)/.exec(said)?.[1] ?? "");
    await vi.waitUntil(
      async () => /Ellen<\/span> was told by post/.test(await page.look()),
      waiting,
    );
    expect(await page.look()).toContain("Hazel Comfort, ALARM: No word from the boat");
    expect(await page.look()).toContain("Who was told from ashore");
    expect(await page.look()).toContain('value="have-it"');
    expect(await page.look()).not.toContain('value="shelve"');

    const reply = await (await page.post("hail", {}, { accept: "application/json" })).json();
    expect(reply).toEqual({ accepted: true, said: "Ellen, by post: sent and taken." });
    expect(service.taken.at(-1)?.message.text).toMatch(
      /^Ashore: a test, sent at .* Nothing is wrong/,
    );
    shore.interrupt();
    await shore.finished();
  },
);
