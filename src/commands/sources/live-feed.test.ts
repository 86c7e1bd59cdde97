import { beforeEach, describe, expect, test } from "vitest";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../bus/frame-source.ts";
import { Timeline } from "../../ground/timeline.ts";
import { type Micros, MILLISECOND, MINUTE, SECOND } from "../../ground/time.ts";
import { LiveFeed } from "./live-feed.ts";

const WALL: Micros = 1_781_431_200 * SECOND;

const live = (more: Partial<FrameSource>): FrameSource => ({
  title: "a bus",
  live: true,
  counts: emptyCounts(),
  problems: [],
  async *batches() {},
  stop() {},
  ...more,
});
const can0 = live({ stampedHere: true, lateness: 50 * MILLISECOND });
const can1 = live({ stampedHere: true, lateness: 50 * MILLISECOND });
const gateway = live({ lateness: 500 * MILLISECOND });

describe("a program that was stopped for ten seconds", () => {
  let steady: Micros;
  /** How long the program is stopped right after it has looked at the clock. */
  let stopped: Micros;
  let feed: LiveFeed;
  /** Seconds since the beginning: of frames, and with a "+" to where time was let pass. */
  let told: string[];
  const say = (mark: string, stamp: Micros) => told.push(`${mark}${(stamp - WALL) / SECOND}`);

  beforeEach(() => {
    steady = 0;
    stopped = 0;
    told = [];
    const timeline = new Timeline();
    const watch = {
      timeline,
      feed(batch: FrameBatch) {
        if (batch.clockStep !== 0) timeline.step(batch.times[0]);
        for (let i = 0; i < batch.count; i++) say("", timeline.reach(batch.times[i]));
      },
      advance: (stamp: Micros) => void say("+", timeline.reach(stamp)),
    };
    const look = () => {
      const now = steady;
      steady += stopped;
      stopped = 0;
      return now;
    };
    feed = new LiveFeed({ steady: look, wall: () => WALL + steady }, watch);
  });

  function come(source: FrameSource, ...seconds: readonly number[]): void {
    const batch = new FrameBatch(seconds.length);
    batch.times.set(seconds.map((one) => WALL + one * SECOND));
    batch.count = seconds.length;
    feed.take(source, batch);
  }
  function passTo(seconds: number): void {
    for (; steady < seconds * SECOND; steady += 100 * MILLISECOND) feed.pass();
  }

  test("first takes what waited for it, though its own timer comes before", () => {
    feed.begin([can0]);
    come(can0, 0);
    steady = 10 * SECOND;
    feed.pass();
    expect(told).toEqual(["0"]);
    come(can0, 1, 2, 9);
    come(can0, 9.9);
    steady += 100 * MILLISECOND;
    feed.pass();
    expect(told).toEqual(["0"]);
    passTo(11);
    expect(told.slice(0, 6)).toEqual(["0", "1", "2", "9", "9.9", "+10.25"]);
  });

  test("does so too where it was stopped while it looked whether it was", () => {
    feed.begin([can0]);
    come(can0, 0);
    passTo(1);
    stopped = 10 * SECOND;
    feed.pass();
    expect(told.at(-1)).toBe("+0.95");
    feed.pass();
    come(can0, 2, 9, 10.2, 10.9);
    passTo(12);
    expect(told.slice(told.indexOf("+0.95") + 1).slice(0, 4)).toEqual(["2", "9", "10.2", "10.9"]);
  });

  test("does so too where it had been slow for seconds before", () => {
    feed.begin([can0]);
    come(can0, 0);
    for (let look = 0; look < 8; look++) {
      steady += 600 * MILLISECOND;
      feed.pass();
      come(can0, steady / SECOND);
    }
    steady += 10 * SECOND;
    feed.pass();
    feed.pass();
    expect(told.filter((one) => one.startsWith("+"))).toEqual([]);
  });

  test("lets no time pass where the system had no room for the frames", () => {
    const counts = emptyCounts();
    const small = live({ stampedHere: true, lateness: 50 * MILLISECOND, counts });
    feed.begin([small, can1]);
    come(small, 0);
    steady = 10 * SECOND;
    come(small, 0.5, 1, 9.8, 9.9);
    counts.dropped = 88;
    come(can1, 0.75);
    passTo(10.4);
    come(small, 10.4);
    expect(told.filter((text) => !text.startsWith("+")))
      .toEqual(["0", "0.5", "0.75", "1", "1", "1.1", "1.6"]);
  });

  test("lets no time pass where frames bear the time at which they were read", () => {
    const serial = live({ stampedHere: true, lateness: 50 * MILLISECOND });
    feed.begin([serial]);
    come(serial, 0);
    steady = 10 * SECOND;
    feed.pass();
    come(serial, 10, 10, 10.1);
    passTo(10.5);
    come(serial, 10.5);
    expect(told.filter((text) => !text.startsWith("+"))).toEqual(["0", "0", "0", "0.1", "0.5"]);
  });

  test("lets no time pass on the other bus while nobody knows what a serial line said", () => {
    const serial = live({ stampedHere: true, lateness: 150 * MILLISECOND });
    feed.begin([can0, serial]);
    come(serial, 0);
    come(can0, 0);
    steady = 10 * SECOND;
    feed.pass();
    come(can0, 1, 5, 9);
    come(serial, 10, 10);
    come(can0, 9.5, 10.1);
    passTo(10.5);
    come(serial, 10.5);
    expect(told.filter((text) => !text.startsWith("+")))
      .toEqual(["0", "0", "0", "0", "0", "0", "0", "0", "0.1", "0.5"]);
  });

  test("lets time stand still only where nobody knows, beside another computer too", () => {
    const counts = emptyCounts();
    const small = live({ stampedHere: true, lateness: 50 * MILLISECOND, counts });
    feed.begin([small, gateway]);
    come(small, 0);
    come(gateway, 0);
    steady = 10 * SECOND;
    come(gateway, 0.5, 3, 9, 9.9);
    come(small, 0.5, 1, 9.5);
    counts.dropped = 88;
    passTo(10.4);
    expect(told.filter((text) => !text.startsWith("+")))
      .toEqual(["0", "0", "0.5", "0.5", "1", "1", "1", "1", "1.4"]);
  });

  test("goes on from where time had come to before it was stopped", () => {
    const serial = live({ stampedHere: true, lateness: 50 * MILLISECOND });
    feed.begin([serial]);
    come(serial, 0);
    passTo(3);
    const before = told.at(-1);
    steady = 10 * SECOND;
    feed.pass();
    come(serial, 10);
    passTo(10.5);
    expect(told.filter((text) => !text.startsWith("+"))).toEqual(["0", before?.slice(1)]);
  });

  test("believes the holes in what another computer has stamped", () => {
    feed.begin([gateway]);
    come(gateway, 0);
    steady = 10 * SECOND;
    come(gateway, 60, 60.5, 90);
    passTo(11);
    expect(told.filter((text) => !text.startsWith("+"))).toEqual(["0", "60", "60.5", "90"]);
  });

  test("takes the frames of two buses in the order of their times", () => {
    feed.begin([can0, can1]);
    come(can0, 0);
    steady = 10 * SECOND;
    come(can0, 1, 5, 9);
    come(can1, 0.5, 4, 6, 9.5);
    passTo(11);
    expect(told.slice(0, 8)).toEqual(["0", "0.5", "1", "4", "5", "6", "9", "9.5"]);
  });

  test("does not take a gateway's clock for another one, because its frames have waited", () => {
    feed.begin([can0, gateway]);
    come(can0, 0);
    come(gateway, 0);
    steady = 10 * SECOND;
    come(gateway, 1, 5, 9);
    come(can0, 4);
    passTo(11);
    come(gateway, 11);
    expect(told.filter((text) => !text.startsWith("+"))).toEqual(
      ["0", "0", "1", "4", "5", "9", "11"],
    );
  });

  test("puts the clock of a gateway right that speaks for the first time meanwhile", () => {
    feed.begin([can0, gateway]);
    come(can0, 0);
    steady = 10 * SECOND;
    come(gateway, -3_590);
    come(can0, 4, 9.5);
    passTo(11);
    come(can0, 11);
    come(gateway, -3_589);
    expect(told.filter((text) => !text.startsWith("+"))).toEqual([
      "0",
      "4",
      "9.5",
      "10",
      "11",
      "11",
    ]);
  });

  test("waits longer while a source says that frames wait which nobody has read, but not for ever", () => {
    let hasWaiting = true;
    const slow: FrameSource = {
      ...can0,
      get hasWaiting() {
        return hasWaiting;
      },
    };
    feed.begin([slow]);
    come(slow, 0);
    steady = 10 * SECOND;
    passTo(12);
    expect(told).toEqual(["0"]);
    come(slow, 1, 2, 9, 9.9);
    hasWaiting = false;
    passTo(13);
    expect(told.slice(0, 6)).toEqual(["0", "1", "2", "9", "9.9", "+12.25"]);
    hasWaiting = true;
    steady = 60 * SECOND;
    passTo(70);
    expect(told.at(-1)).toMatch(/^\+69/);
  });

  test("waits longer while what waited still comes, but not for ever", () => {
    feed.begin([can0]);
    come(can0, 0);
    steady = 10 * SECOND;
    for (let i = 0; i < 40; i++, steady += 200 * MILLISECOND) come(can0, 1 + i / 100);
    expect(told.at(-1)).toBe("1.39");
    steady = 2 * MINUTE;
    feed.pass();
    for (let look = 0; look < 12; look++) {
      steady += 10 * SECOND;
      feed.pass();
    }
    expect(told.at(-1)).toMatch(/^\+/);
  });

  test("keeps no more than a minute of a full bus", () => {
    feed.begin([can0]);
    come(can0, 0);
    steady = 10 * SECOND;
    for (let i = 0; i < 101; i++) come(can0, ...Array.from({ length: 1_000 }, () => 1));
    expect(told.length).toBeGreaterThan(100_000);
  });
});

describe("the clock of another computer", () => {
  let steady: Micros;
  let feed: LiveFeed;
  let timeline: Timeline;
  beforeEach(() => {
    steady = 0;
    timeline = new Timeline();
    const watch = {
      timeline,
      feed(batch: FrameBatch) {
        if (batch.clockStep !== 0) timeline.step(batch.times[0]);
        for (let i = 0; i < batch.count; i++) timeline.reach(batch.times[i]);
      },
      advance: (stamp: Micros) => void timeline.reach(stamp),
    };
    feed = new LiveFeed({ steady: () => steady, wall: () => WALL + steady }, watch);
    feed.begin([gateway]);
  });

  function come(...stamps: readonly Micros[]): void {
    const batch = new FrameBatch(stamps.length);
    batch.times.set(stamps);
    batch.count = stamps.length;
    feed.take(gateway, batch);
  }
  /** Speaks ten times a second. */
  function keepPace(seconds: number, ahead: Micros): void {
    const end = steady + seconds * SECOND;
    for (; steady < end; steady += 100 * MILLISECOND) come(WALL + steady + ahead);
  }
  const passed = () => timeline.now - WALL;

  test("that is set forward by months lets no time pass, and what it says from then on holds", () => {
    const months = 180 * 24 * 60 * MINUTE;
    keepPace(4, 0);
    come(WALL + steady, WALL + steady + months, WALL + steady + months + 50 * MILLISECOND);
    expect(passed()).toBe(4.05 * SECOND);
    steady += 100 * MILLISECOND;
    keepPace(2, months);
    expect(passed()).toBe(6 * SECOND);
    expect(timeline.wallOf(timeline.now)).toBe(WALL + 6 * SECOND + months);
  });

  test("that began where it stopped, and is set when it finds the network, lets no time pass", () => {
    keepPace(4, 0);
    for (; steady < MINUTE; steady += 100 * MILLISECOND) feed.pass();
    const before = passed();
    keepPace(4, -MINUTE);
    keepPace(2, 0);
    expect(passed() - before).toBeLessThan(7 * SECOND);
  });

  test("is believed where it gives what was recorded at once, and after a pause", () => {
    come(WALL, WALL + 10 * SECOND);
    steady = 5 * SECOND;
    for (; steady < 10 * SECOND; steady += 100 * MILLISECOND) feed.pass();
    come(WALL + MINUTE);
    come(WALL + 2 * MINUTE);
    expect(passed()).toBe(2 * MINUTE);
  });

  test("is no other for frames that were late and then come all together", () => {
    keepPace(4, 0);
    for (; steady < 9 * SECOND; steady += 100 * MILLISECOND) feed.pass();
    come(WALL + 5 * SECOND, WALL + 7 * SECOND);
    const steps = timeline.steps;
    come(WALL + 8 * SECOND, WALL + 9 * SECOND);
    expect(timeline.steps).toBe(steps);
  });
});
