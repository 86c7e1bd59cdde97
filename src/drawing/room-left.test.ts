import { describe, expect, test } from "vitest";
import { drawRoomLeft, type RoomLeftPicture } from "./room-left.ts";

const LOW: RoomLeftPicture = { value: 60, limits: [{ at: 20, side: "low" }], span: 80 };

/** Ends of the heavy stretch, in per cent of the width. */
function stretch(picture: RoomLeftPicture): [number, number] {
  const found = /class="room" x1="([\d.]+)%" x2="([\d.]+)%"/.exec(drawRoomLeft(picture));
  return [Number(found?.[1]), Number(found?.[2])];
}

function ticks(picture: RoomLeftPicture): number[] {
  return [...drawRoomLeft(picture).matchAll(/class="tick" x1="([\d.]+)%"/g)]
    .map((found) => Number(found[1]));
}

describe("the drawing of room left", () => {
  test("has a heavy stretch from the limit to the value", () => {
    const [from, to] = stretch(LOW);
    expect(from).toBe(ticks(LOW)[0]);
    // Half the usual range, of the 82 % of the width that one range takes.
    expect(to - from).toBeCloseTo(41, 0);
  });

  test("lines up like limits of unlike units", () => {
    const pressure = { value: 345_000, limits: [{ at: 124_000, side: "low" }], span: 400_000 };
    expect(ticks(LOW)).toEqual(ticks({ ...LOW, ...pressure } as RoomLeftPicture));
  });

  test("mirrors a high limit", () => {
    const high: RoomLeftPicture = { value: 60, limits: [{ at: 100, side: "high" }], span: 80 };
    expect(ticks(high)[0]).toBeCloseTo(100 - ticks(LOW)[0], 5);
  });

  test("measures to the nearest of several limits", () => {
    const both: RoomLeftPicture = {
      value: 90,
      limits: [{ at: 20, side: "low" }, { at: 100, side: "high" }],
      span: 80,
    };
    expect(stretch(both)[1]).toBe(ticks(both)[1]);
  });

  test("is marked as passed when the value lies beyond a limit", () => {
    expect(drawRoomLeft(LOW)).not.toContain("passed");
    expect(drawRoomLeft({ ...LOW, value: 10 })).toContain(`class="room-left passed"`);
  });

  test("keeps a value that is off the scale inside the drawing", () => {
    for (const value of [-1e6, 1e6]) {
      const [from, to] = stretch({ ...LOW, value });
      expect(from).toBeGreaterThanOrEqual(0);
      expect(to).toBeLessThanOrEqual(100);
    }
  });
});
