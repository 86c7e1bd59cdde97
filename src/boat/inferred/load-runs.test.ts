import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Micros, SECOND } from "../../ground/time.ts";
import { LoadRuns } from "./load-runs.ts";

const BY = { step: { from: 3, to: 8 }, lasting: { from: 4 * SECOND, to: 120 * SECOND } };

/** Lengths of the runs seen, in seconds; the current is told every 1.5 s. */
function seen(current: (seconds: number) => number, lasting: number): number[] {
  const runs = new LoadRuns(BY);
  const found: number[] = [];
  const keep = (lasted: Micros | null) => {
    if (lasted !== null) found.push(lasted / SECOND);
  };
  for (let seconds = 0; seconds <= lasting; seconds += 1.5) {
    const now = seconds * SECOND;
    while (runs.nextDue <= now) keep(runs.runTimer());
    keep(runs.take(current(seconds), now));
  }
  return found;
}

const during = (seconds: number, from: number, to: number) => seconds >= from && seconds < to;

describe("runs of a load, seen on a battery's current", () => {
  test("are counted by their length, beside a fridge that runs for longer", () => {
    const current = (seconds: number) =>
      -1 - (during(seconds, 60, 780) ? 5 : 0) - ((seconds + 120) % 240 < 6 ? 4.5 : 0);
    const found = seen(current, 1200);
    expect(found).toHaveLength(5);
    for (const length of found) expect(length).toBeCloseTo(6, 0);
  });

  test("are none where a fridge runs, a light is lit or a windlass turns", () => {
    expect(seen((seconds) => during(seconds, 60, 780) ? -6 : -1, 1500)).toEqual([]);
    expect(seen((seconds) => during(seconds, 60, 70) ? -2 : -1, 200)).toEqual([]);
    expect(seen((seconds) => during(seconds, 60, 70) ? -90 : -1, 200)).toEqual([]);
  });

  test("end unseen where the current was not known meanwhile", () => {
    const current = (seconds: number) =>
      during(seconds, 63, 66) ? NaN : during(seconds, 60, 70) ? -6 : -1;
    expect(seen(current, 200)).toEqual([]);
  });

  test("are never longer or shorter than the boat file says, whatever comes", () => {
    fc.assert(fc.property(fc.array(fc.double({ min: -20, max: 20 }), { maxLength: 300 }), (all) => {
      for (const length of seen((seconds) => all[seconds / 1.5] ?? 0, 450)) {
        expect(length >= 4 && length < 120).toBe(true);
      }
    }));
  });
});
