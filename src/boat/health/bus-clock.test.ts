import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DAY, type Micros, SECOND } from "../../ground/time.ts";
import {
  believedOffset,
  BUILD_DATE,
  clockAfter,
  type ClockBelief,
  NO_BELIEF,
} from "./bus-clock.ts";

const TODAY: Micros = BUILD_DATE + 160 * DAY;
const ROLLOVER = 1024 * 7 * DAY;
/** A computer without a battery for its clock begins here. */
const NINETEEN_SEVENTY = 0;

/** A computer that hears a clock. */
class Listener {
  belief: ClockBelief = NO_BELIEF;
  seconds = 0;

  constructor(readonly wallAtStart: Micros = NINETEEN_SEVENTY, readonly saved = BUILD_DATE) {}

  /** The true time is `TODAY` at the start. */
  hear(seconds: number, error: Micros, sender = 1): this {
    for (const end = this.seconds + seconds; this.seconds < end; this.seconds++) {
      const now = this.seconds * SECOND;
      const statement = { sender, stated: TODAY + now + error, now, wall: this.wallAtStart + now };
      this.belief = clockAfter(this.belief, statement, this.saved);
    }
    return this;
  }

  quiet(seconds: number): this {
    this.seconds += seconds;
    return this;
  }

  /** How far from the truth, in seconds; null while nothing is believed. */
  get error(): number | null {
    const offset = believedOffset(this.belief);
    return offset === null ? null : (offset - TODAY) / SECOND;
  }
}

describe("situation 11: the clock of the bus", () => {
  test("a date 1,024 weeks old, then nothing, then right: no step to the old date", () => {
    const listener = new Listener().hear(300, -ROLLOVER);
    expect(listener.error).toBeNull();
    listener.quiet(600).hear(60, 0);
    expect(listener.error).toBeNull();
    listener.hear(1, 0);
    expect(listener.error).toBe(0);
  });

  test("once it is believed, a rollover moves nothing, to either side", () => {
    const listener = new Listener().hear(61, 0);
    for (const error of [-ROLLOVER, ROLLOVER, -2 * ROLLOVER]) {
      listener.hear(200, error).quiet(20).hear(200, error);
      expect(listener.error).toBe(0);
    }
  });

  test("a computer whose clock is set does not believe a rollover into the future", () => {
    expect(new Listener(TODAY).hear(200, ROLLOVER).error).toBeNull();
    expect(new Listener(TODAY).hear(200, 0).error).toBe(0);
  });

  test("nothing earlier than the last saved time is believed", () => {
    expect(new Listener(NINETEEN_SEVENTY, TODAY + DAY).hear(200, 0).error).toBeNull();
  });

  test("a time that jumps is not believed before it has been steady for a minute", () => {
    const listener = new Listener().hear(30, 0).hear(40, 100 * SECOND);
    expect(listener.error).toBeNull();
    listener.hear(21, 100 * SECOND);
    expect(listener.error).toBe(100);
  });

  test("a sender that jumps leaves what was believed in force until it is steady again", () => {
    const listener = new Listener().hear(61, 0).hear(59, 3600 * SECOND);
    expect(listener.error).toBe(0);
    listener.hear(2, 3600 * SECOND);
    expect(listener.error).toBe(3600);
  });

  test("another sender is not asked while the first goes on", () => {
    const listener = new Listener();
    for (let i = 0; i < 100; i++) listener.hear(1, 0, 1).hear(1, 18 * SECOND, 2);
    expect(listener.error).toBe(0);
    listener.quiet(10).hear(61, 18 * SECOND, 2);
    expect(listener.error).toBe(18);
  });

  test("whatever is said, what is believed is later than the last saved time", () => {
    const step = fc.record({
      seconds: fc.integer({ min: 1, max: 100 }),
      error: fc.integer({ min: -20_000, max: 20_000 }).map((days) => days * DAY),
      sender: fc.integer({ min: 1, max: 2 }),
    });
    fc.assert(fc.property(fc.array(step, { maxLength: 20 }), (steps) => {
      const listener = new Listener();
      for (const { seconds, error, sender } of steps) {
        listener.hear(seconds, error, sender);
        const offset = believedOffset(listener.belief);
        if (offset === null) continue;
        expect(offset + listener.seconds * SECOND).toBeGreaterThan(BUILD_DATE);
      }
    }));
  });
});
