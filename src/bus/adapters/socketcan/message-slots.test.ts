import { describe, expect, test } from "vitest";
import { MessageSlots } from "./message-slots.ts";

const BASE = 0x7f00_0000_1000n;

/** Slots whose memory begins at a known address, read as the kernel reads them. */
function slotsAt(capacity: number) {
  const slots = new MessageSlots(capacity, () => BASE);
  const address = (at: number) => Number(slots.view.getBigUint64(at, true) - BASE);
  return { slots, address };
}

describe("the slots that recvmmsg fills", () => {
  test("have headers of 64 bytes, each with one piece of 16 bytes for a frame", () => {
    const { slots, address } = slotsAt(3);
    for (const slot of [0, 1, 2]) {
      const header = slot * 64;
      const piece = address(header + 16);
      expect(piece).toBe(3 * 64 + slot * 16);
      expect(slots.view.getBigUint64(header + 24, true)).toBe(1n);
      expect(address(piece) + 8).toBe(slots.dataAt(slot));
      expect(slots.view.getBigUint64(piece + 8, true)).toBe(16n);
      expect(address(header + 32)).toBe(slots.controlAt(slot));
      expect(slots.view.getBigUint64(header + 40, true)).toBe(64n);
    }
  });

  test("lie beside one another without a byte in common, control messages aligned to eight", () => {
    const { slots } = slotsAt(4);
    const ends = [0, 1, 2, 3].flatMap((slot) => [slots.dataAt(slot) + 8, slots.controlAt(slot)]);
    expect(new Set(ends).size).toBe(7);
    expect(slots.controlAt(3) + 64).toBe(slots.bytes.length);
    expect([0, 1, 2, 3].map((slot) => slots.controlAt(slot) % 8)).toEqual([0, 0, 0, 0]);
  });

  test("give back a frame as the kernel's struct can_frame lays it", () => {
    const { slots } = slotsAt(2);
    const frame = slots.dataAt(1) - 8;
    slots.view.setUint32(frame, 0x98ff0001, true);
    slots.bytes[frame + 4] = 3;
    slots.view.setUint32(64 + 56, 16, true);
    expect(slots.isFrame(1)).toBe(true);
    expect(slots.word(1)).toBe(0x98ff0001);
    expect(slots.length(1)).toBe(3);
  });

  test("hold no frame where another length was received", () => {
    const { slots } = slotsAt(1);
    for (const [received, is] of [[72, false], [8, false], [0, false], [16, true]] as const) {
      slots.view.setUint32(56, received, true);
      expect(slots.isFrame(0)).toBe(is);
    }
  });

  test("are as they were after a call shortened their control messages", () => {
    const { slots } = slotsAt(2);
    const before = slots.bytes.slice();
    for (const header of [0, 64]) {
      slots.view.setUint32(header + 40, 56, true);
      slots.view.setUint32(header + 48, 0x8, true);
    }
    slots.reset(2);
    expect(slots.bytes).toEqual(before);
  });
});
