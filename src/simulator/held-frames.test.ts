import fc from "fast-check";
import { expect, test } from "vitest";
import { FrameBatch } from "../bus/frame-batch.ts";
import { HeldFrames } from "./held-frames.ts";

test("held frames come in order of time, equal times as they were held, each with its own bytes", () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 40 }), (dues) => {
    const held = new HeldFrames();
    const batch = new FrameBatch(64);
    dues.forEach((due, number) => {
      batch.identifiers[0] = number;
      batch.lengths[0] = 8;
      batch.data.fill(number, 0, 8);
      held.hold(batch, 0, due);
    });
    const expected = dues.map((due, number) => ({ due, number }))
      .sort((a, b) => a.due - b.due || a.number - b.number);
    for (const { due, number } of expected) {
      expect(held.nextDue).toBe(due);
      held.appendNext(batch);
      const last = batch.count - 1;
      expect(batch.identifiers[last]).toBe(number);
      expect([...batch.data.subarray(last * 8, last * 8 + 8)]).toEqual(Array(8).fill(number));
    }
    expect(held.nextDue).toBe(Infinity);
  }));
});
