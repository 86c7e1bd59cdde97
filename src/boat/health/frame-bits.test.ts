import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { plainBits, stuffBits } from "./frame-bits.ts";

/** The same once more, on text: bits as they go over the wire, then stuffing by a search. */
function stuffBitsOnText(identifier: number, data: readonly number[]): number {
  const bits = (value: number, width: number) => value.toString(2).padStart(width, "0");
  const head = "0" + bits(identifier >>> 18, 11) + "11" + bits(identifier & 0x3ffff, 18) + "000" +
    bits(data.length, 4) + data.map((byte) => bits(byte, 8)).join("");
  let checksum = 0n;
  for (const bit of head) {
    checksum = (checksum << 1n) ^ ((BigInt(bit) ^ (checksum >> 14n & 1n)) === 1n ? 0x4599n : 0n);
    checksum &= 0x7fffn;
  }
  let rest = head + bits(Number(checksum), 15);
  let sent = "";
  while (rest !== "") {
    sent += rest[0];
    rest = rest.slice(1);
    const run = /(?:00000|11111)$/.exec(sent);
    if (run !== null) rest = (run[0][0] === "0" ? "1" : "0") + rest;
  }
  return sent.length - head.length - 15;
}

const anyIdentifier = fc.integer({ min: 0, max: 0x1fffffff });
const anyByte = fc.oneof(fc.integer({ min: 0, max: 255 }), fc.constantFrom(0, 255));
const anyData = fc.array(anyByte, { maxLength: 8 });

describe("bits of a frame", () => {
  // Linux, include/linux/can/length.h: an extended frame's header has 39 bits.
  test("without stuff bits: 131 for eight bytes after an extended identifier", () => {
    expect(plainBits(true, 8)).toBe(131);
    expect(plainBits(false, 8)).toBe(111);
    expect(plainBits(true, 0)).toBe(67);
  });

  test("stuff bits are what a plain search finds, and never more than 29", () => {
    fc.assert(
      fc.property(anyIdentifier, anyData, (identifier, data) => {
        const stuff = stuffBits(identifier, Uint8Array.from(data), 0, data.length);
        expect(stuff).toBe(stuffBitsOnText(identifier, data));
        expect(stuff).toBeLessThanOrEqual(29);
      }),
      { numRuns: 1000 },
    );
  });
});
