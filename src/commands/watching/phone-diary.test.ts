import { expect, test } from "vitest";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { DAY, HOUR, MINUTE } from "../../ground/time.ts";
import type { DayFacts } from "../../outputs/phones/words/daily-line.ts";
import { clockOf, NOON, ServedWay, ToldBoat, WANTS } from "../../../tests/support/told-boat.ts";
import { VirtualTime } from "../../../tests/support/virtual-time.ts";
import { openPhoneDiary } from "./phone-diary.ts";

const facts: DayFacts = {
  onWatch: 34,
  unjudged: [],
  statuses: [],
  since: NOON - 3 * DAY,
  heard: NOON + 20.5 * HOUR,
  stood: new Map(),
  troubled: null,
  values: ["house 13.2 V"],
};

/** Ellen's boat, whose diary is looked at once a minute. */
class Boat {
  readonly time = new VirtualTime(NOON);
  readonly way = new ServedWay("post", this.time);
  readonly told = new ToldBoat([{ name: "Ellen", wants: WANTS, ways: [this.way] }], {
    time: this.time,
  });

  async run(length: number): Promise<void> {
    await this.told.open();
    const { phones } = this.told;
    if (phones === undefined) return;
    const diary = await openPhoneDiary({
      phones,
      people: [{ name: "Ellen", wants: WANTS, reach: [], dailyLine: "0 8 * * *" }],
      boat: { ...UNKNOWN_BOAT, name: "hazel-comfort", timeZone: "Europe/London" },
      store: this.told.store,
      clock: this.time,
      hailAt: undefined,
      hail: () => Promise.resolve([]),
      day: () => Promise.resolve(facts),
      say: () => {},
    });
    for (let at = 0; at < length; at += MINUTE) {
      diary.turn();
      await this.time.pass(MINUTE);
    }
    await phones.stop();
  }
}

test("a daily line is told at its hour, once, over a restart too", async () => {
  const boat = new Boat();
  await boat.run(20 * HOUR + 30 * MINUTE);
  await boat.run(HOUR);
  expect(boat.way.taken.map(({ at, message }) => `${clockOf(at)} ${message.text}`)).toEqual([
    "1200:00 Hazel Comfort, 08:00: all well for 24 h. House 13.2 V.",
  ]);
  expect(boat.way.taken[0].message).toMatchObject({ about: "daily-line", priority: "caution" });
});

test("a daily line that was missed is told when the watch has settled, and says so", async () => {
  const boat = new Boat();
  await boat.run(HOUR);
  await boat.time.pass(20 * HOUR);
  await boat.run(HOUR);
  expect(boat.way.taken.map(({ at, message }) => `${clockOf(at)} ${message.text}`)).toEqual([
    "1262:00 Hazel Comfort, 09:02: all well for 24 h. " +
    "Nothing was said at 08:00: this program was not running. House 13.2 V.",
  ]);
});
