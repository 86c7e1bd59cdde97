import { describe, expect, test } from "vitest";
import { type Delay, dueOf, IDLE, OVER, stepDelay } from "./delay.ts";

const times = { length: 100, from: 0, oldAge: 10 };

describe("a delay", () => {
  test("counts from the time it is given and is over at its due time, not before", () => {
    const running = stepDelay(IDLE, "yes", 20, { ...times, from: 20 });
    expect(running).toEqual({ kind: "running", due: 120 });
    expect(stepDelay(running, "yes", 119, times)).toBe(running);
    expect(stepDelay(running, "yes", 120, times)).toBe(OVER);
  });

  test("of no length is over at once", () => {
    expect(stepDelay(IDLE, "yes", 5, { ...times, from: 5, length: 0 })).toBe(OVER);
  });

  test("begins anew after a break", () => {
    const running: Delay = { kind: "running", due: 120 };
    expect(stepDelay(running, "no", 119, times)).toBe(IDLE);
  });

  test("stands still while the answer is unknown, and goes on with what was left", () => {
    const frozen = stepDelay({ kind: "running", due: 120 }, "unknown", 50, times);
    expect(frozen).toEqual({ kind: "frozen", left: 70, resets: 60 });
    expect(dueOf(frozen)).toBe(60);
    expect(stepDelay(frozen, "yes", 55, times)).toEqual({ kind: "running", due: 125 });
  });

  test("is given up after one old age of unknown", () => {
    const frozen: Delay = { kind: "frozen", left: 70, resets: 60 };
    expect(stepDelay(frozen, "unknown", 59, times)).toBe(frozen);
    expect(stepDelay(frozen, "unknown", 60, times)).toBe(IDLE);
    expect(stepDelay(IDLE, "unknown", 61, times)).toBe(IDLE);
  });

  test("is given up at once when a signal is no longer heard", () => {
    for (
      const delay of [
        { kind: "running", due: 120 },
        { kind: "frozen", left: 70, resets: 60 },
        OVER,
      ] as const
    ) {
      expect(stepDelay(delay, "lost", 50, times)).toBe(IDLE);
    }
  });
});
