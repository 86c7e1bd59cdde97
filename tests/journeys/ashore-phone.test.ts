import { expect, onTestFinished, test, vi } from "vitest";
import { isoTime, MILLISECOND, MINUTE } from "../../src/ground/time.ts";
import { hasMosquitto, Mosquitto, send } from "../support/mosquitto.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { start } from "../support/sternfast.ts";

const waiting = { timeout: 30_000, interval: 20 };

/** A boat whose last word lies on the broker, and is older than two of her intervals. */
test.skipIf(!hasMosquitto())(
  "a boat that is not heard is told once, over a restart too",
  async () => {
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
    const link = { state: "connected", time, interval: 300, epoch: "00112233aabbccdd", number: 0 };
    await send(broker.port, "sternfast/hazel-comfort/link", JSON.stringify(link), "-r");

    for (let run = 0; run < 2; run++) {
      const shore = await start(["ashore", "hazel-comfort"], { folder });
      await shore.until(/Connected to/);
      await vi.waitUntil(() => service.taken.length > 0, waiting);
      if (run === 1) {
        await send(
          broker.port,
          "sternfast/hazel-comfort/link",
          JSON.stringify({
            ...link,
            time: isoTime(Date.now() * MILLISECOND, 3),
          }),
        );
      }
      if (run === 1) await shore.until(/The boat is heard again/);
      shore.interrupt();
      await shore.finished();
    }
    const texts = service.taken.map(({ message }) => message.text);
    expect(texts[0]).toMatch(/^Hazel Comfort, ALARM: The boat has not said a word .* Ask somebody/);
    expect(texts.filter((text) => text.includes("has not said a word for"))).toHaveLength(1);
  },
);
