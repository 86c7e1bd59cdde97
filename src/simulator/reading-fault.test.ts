import { describe, expect, test } from "vitest";
import { Random } from "./random.ts";
import { FaultyReading, type Reading, type ReadingFault } from "./reading-fault.ts";

const READING: Reading = { device: "shunt", field: "current", of: { instance: 0 } };

function faulty(fault: ReadingFault, reading = READING): FaultyReading {
  return new FaultyReading(reading, fault, new Random(1, "faulty"));
}

describe("a faulty reading", () => {
  test("leaves other fields and other instances as they are", () => {
    const nothing = faulty({ reads: "nothing" });
    expect(nothing.applyTo({ instance: 0, current: 5, voltage: 13 }))
      .toEqual({ instance: 0, current: null, voltage: 13 });
    expect(nothing.applyTo({ instance: 1, current: 5 })).toEqual({ instance: 1, current: 5 });
  });

  test("never adds a field that the message does not have", () => {
    expect(faulty({ reads: "always", value: 3 }).applyTo({ instance: 0 })).toEqual({ instance: 0 });
  });

  test("that sticks keeps what each of its messages said first", () => {
    const stuck = faulty({ reads: "the-same" }, { device: "tank-senders", field: "level" });
    stuck.applyTo({ instance: 0, fluid: "fuel", level: 60 });
    stuck.applyTo({ instance: 0, fluid: "water", level: 80 });
    expect(stuck.applyTo({ instance: 0, fluid: "fuel", level: 10 }).level).toBe(60);
    expect(stuck.applyTo({ instance: 0, fluid: "water", level: 10 }).level).toBe(80);
  });

  test("that trembles stays within its bounds and on its side of zero", () => {
    const noisy = faulty({ reads: "noise", most: 10 });
    for (let i = 0; i < 500; i++) {
      const high = Number(noisy.applyTo({ instance: 0, current: 50 }).current);
      expect(Math.abs(high - 50)).toBeLessThanOrEqual(10);
      expect(noisy.applyTo({ instance: 0, current: 1 }).current).toBeGreaterThanOrEqual(0);
    }
  });

  test("with a loose contact misses its share", () => {
    const loose = faulty({ reads: "now-and-then", missing: 0.25 });
    const said = Array.from({ length: 2000 }, () => loose.applyTo({ instance: 0, current: 5 }));
    const missing = said.filter(({ current }) => current === null).length / said.length;
    expect(missing).toBeGreaterThan(0.22);
    expect(missing).toBeLessThan(0.28);
  });

  test("that is reversed changes the sign of numbers, and nothing else", () => {
    const reversed = faulty({ reads: "reversed" });
    expect(reversed.applyTo({ instance: 0, current: -7 }).current).toBe(7);
    expect(reversed.applyTo({ instance: 0, current: null }).current).toBeNull();
  });
});
