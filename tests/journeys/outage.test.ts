import { describe, expect, onTestFinished, test, vi } from "vitest";
import { DAY, isoTime, MILLISECOND } from "../../src/ground/time.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import { BadLink } from "../support/bad-link.ts";
import { BATTERY_BOAT, BATTERY_VOLTAGE, batteryLines } from "../support/battery-story.ts";
import { keptIn, lastNumbersIn, untilReceived } from "../support/both-sides.ts";
import { print } from "../support/chaos.ts";
import { hasMosquitto, Mosquitto, Reader, send } from "../support/mosquitto.ts";
import { ownFolder } from "../support/own-folder.ts";
import { start } from "../support/sternfast.ts";
import { firstTold } from "../support/told-events.ts";

const BASE = "sternfast/dora/";
const ALARM = `${BASE}alarm/house-voltage-low/house`;
const HOUR = 3600;
/** The day before yesterday: what is older than ninety days is not kept. */
const BEGINS = Math.floor(Date.now() * MILLISECOND / DAY) * DAY - 2 * DAY;
const waiting = { timeout: 50_000, interval: 20 };

/** Raised once a minute in the first forty minutes; 41 an hour later, and 42 in the last hour. */
function lowFor(hours: number): (second: number) => boolean {
  return (second) => {
    if (second < 40 * 60) return second % 60 >= 50;
    const last = (hours - 0.5) * HOUR;
    return (second >= 2 * HOUR && second < 2 * HOUR + 60) || second >= last;
  };
}

describe.skipIf(!hasMosquitto())("situation 7: the broker is away", () => {
  test.each([8, 24])(
    "for %i hours, and nothing of them is lost or mistaken",
    { timeout: 180_000 },
    async (hours) => {
      const broker = await Mosquitto.start();
      const link = new BadLink(broker.port);
      const reader = await Reader.start(broker.port, `${BASE}#`);
      onTestFinished(async () => {
        link.stop();
        await reader.stop();
        await broker.stop();
      });
      const folder = ownFolder(BATTERY_BOAT);
      const shore = ["ashore", "dora", "--broker", broker.url, "--state", "home"];
      const ashore = await start(shore, { folder });
      await ashore.until(/Connected to/);
      const files = ["--boat", "boat.yaml", "--rules", "rules.yaml", "--state", "state"];
      const board = () =>
        start(["run", "-", "--json", "--broker", link.url, ...files], { folder, input: "piped" });
      const boat = await board();
      const pass = async (from: number, to: number) => {
        const isLow = lowFor(hours);
        for (let at = from; at < to; at += HOUR / 4) {
          await boat.type(batteryLines(BEGINS, at, Math.min(HOUR / 4, to - at), isLow));
        }
      };
      const told = () => firstTold(reader, `${BASE}event`);

      await pass(0, HOUR);
      await boat.until(/"occurrence":40,"from":"unacknowledged"/);
      await vi.waitUntil(() => told().length === 80, waiting);
      await vi.waitUntil(() => reader.on(ALARM).length > 0, waiting);

      link.cut();
      await boat.until(/The broker is away/);
      const before = reader.messages.length;
      // Somebody means well, and leaves an answer on the broker that waits there.
      await answer(broker.port, "waits", 42, "-r");
      await pass(HOUR, (hours + 1) * HOUR);
      await boat.until(/"occurrence":42,"from":"returned-unacknowledged"/);

      link.mend();
      await vi.waitUntil(() => told().some(({ occurrence }) => occurrence === 42), waiting);
      const given = () => reader.latest(`${BASE}command/received`);
      await vi.waitUntil(() => JSON.stringify(given() ?? {}).includes(`"number":83`), waiting);
      const since = reader.messages.slice(before);
      const topics = since.map(({ topic }) => topic.slice(BASE.length));
      // The latest state only, behind the events and before the history.
      expect(topics.filter((topic) => topic.startsWith("alarm/"))).toHaveLength(1);
      expect(reader.latest(ALARM)).toMatchObject({ occurrence: 42, state: "unacknowledged" });
      expect(topics.lastIndexOf("event")).toBeLessThan(topics.indexOf(ALARM.slice(BASE.length)));
      await vi.waitUntil(() => reader.on(`${BASE}history/pack`).length > 0, waiting);

      await answer(broker.port, "late", 41);
      await answered(reader, "late");
      await answered(reader, "waits");
      expect(reader.latest(`${BASE}command-answer/late`)).toMatchObject({
        accepted: false,
        refused:
          "That was an earlier time; it is over, and Ellen has answered it now. It has been " +
          "raised again since, and that is untouched.",
      });
      const said = await boat.until(/refused: That was an earlier time/);
      expect(said).toMatch(/refused: A retained command is refused/);
      expect(reader.latest(ALARM)).toMatchObject({ occurrence: 42, state: "unacknowledged" });
      await answer(broker.port, "now", 42);
      await answered(reader, "now");
      await vi.waitUntil(() => told().length === 84, waiting);

      boat.interrupt();
      expect((await boat.finished()).code).toBe(130);
      const last = await lastNumbersIn(`${folder}/state`);
      const again = await board();
      await untilReceived(reader, BASE, last);
      again.interrupt();
      await again.finished();
      ashore.interrupt();
      await ashore.finished();

      expect(told().map((event) => event.number)).toEqual(count(84));
      const kept = await keptIn(
        `${folder}/home/boats/dora`,
        BATTERY_VOLTAGE,
        minuteOf(BEGINS),
        minuteOf(BEGINS + 2 * DAY),
      );
      print(
        `${hours} hours away: ${kept.events.length} events, ${kept.minutes.length} minutes ashore`,
      );
      expect(kept.events.map(({ change }) => change.occurrence)).toEqual(
        told().map(({ occurrence }) => occurrence),
      );
      expect(kept.events.at(-1)?.change).toMatchObject({ occurrence: 42, to: "acknowledged" });
      const passed = count((hours + 1) * 60).map((minute) => minuteOf(BEGINS) + minute - 1);
      // Time goes on while the test waits: there may be one more that had begun.
      const minutes = kept.minutes.map(({ minute }) => minute).slice(0, passed.length);
      expect(minutes).toEqual(passed);
    },
  );
});

function count(to: number): number[] {
  return Array.from({ length: to }, (_, i) => i + 1);
}

async function answer(port: number, id: string, occurrence: number, ...more: string[]) {
  const time = isoTime(Date.now() * MILLISECOND, 3);
  const of = { tag: "house-voltage-low", subject: "house", occurrence, who: "Ellen" };
  await send(port, `${BASE}command/acknowledge`, JSON.stringify({ id, time, ...of }), ...more);
}

async function answered(reader: Reader, id: string): Promise<void> {
  await vi.waitUntil(() => reader.on(`${BASE}command-answer/${id}`).length > 0, waiting);
}
