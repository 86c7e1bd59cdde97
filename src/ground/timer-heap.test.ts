import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { TimerHeap } from "./timer-heap.ts";

describe("timers", () => {
  test("come in order of due time, equal times by number", () => {
    const timers = new TimerHeap();
    timers.set(3, 20);
    timers.set(2, 10);
    timers.set(1, 20);
    expect(timers.nextDue).toBe(10);
    expect([timers.take(), timers.take(), timers.take(), timers.take()]).toEqual([2, 1, 3, -1]);
    expect(timers.nextDue).toBe(Infinity);
  });

  test("move when set again and go when cleared", () => {
    const timers = new TimerHeap();
    timers.set(1, 10);
    timers.set(2, 15);
    timers.set(1, 30);
    expect(timers.dueOf(1)).toBe(30);
    expect(timers.take()).toBe(2);
    timers.clear(1);
    timers.clear(9999);
    expect(timers.take()).toBe(-1);
  });

  test("agree with a sorted list whatever is set and cleared", () => {
    const step = fc.oneof(
      fc.record({ timer: fc.nat(200), due: fc.nat(50) }),
      fc.record({ timer: fc.nat(200) }),
    );
    fc.assert(fc.property(fc.array(step, { maxLength: 300 }), (steps) => {
      const timers = new TimerHeap();
      const model = new Map<number, number>();
      for (const taken of steps) {
        if ("due" in taken) {
          timers.set(taken.timer, taken.due);
          model.set(taken.timer, taken.due);
        } else {
          timers.clear(taken.timer);
          model.delete(taken.timer);
        }
        expect(timers.nextDue).toBe(Math.min(Infinity, ...model.values()));
      }
      const expected = [...model].sort((a, b) => a[1] - b[1] || a[0] - b[0]).map(([timer]) =>
        timer
      );
      const found: number[] = [];
      for (let timer = timers.take(); timer >= 0; timer = timers.take()) found.push(timer);
      expect(found).toEqual(expected);
    }));
  });
});
