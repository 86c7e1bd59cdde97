import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { captureMicros } from "./capture-time.ts";

function wordsOf(ticks: bigint): [number, number] {
  return [Number(ticks >> 32n), Number(ticks & 0xffffffffn)];
}

describe("a stamp of a capture", () => {
  test.each<[string, bigint, number, number]>([
    ["microseconds", 1_538_388_000_035_000n, 6, 1_538_388_000_035_000],
    ["nanoseconds, cut", 1_538_388_000_035_000_999n, 9, 1_538_388_000_035_000],
    ["milliseconds", 1_538_388_000_035n, 3, 1_538_388_000_035_000],
    ["seconds", 1_538_388_000n, 0, 1_538_388_000_000_000],
    ["256ths of a second", 256n * 1_538_388_000n + 128n, 0x88, 1_538_388_000_500_000],
  ])("may be in %s", (_unit, ticks, resolution, micros) => {
    expect(captureMicros(...wordsOf(ticks), resolution)).toBe(micros);
  });

  test("is exact at every decimal resolution", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: 0n, max: 2n ** 53n - 1n }),
        fc.integer({ min: 7, max: 19 }),
        fc.bigInt({ min: 0n, max: 10n ** 13n }),
        (micros, resolution, more) => {
          const factor = 10n ** BigInt(resolution - 6);
          const ticks = micros * factor + more % factor;
          fc.pre(ticks < 2n ** 64n);
          expect(captureMicros(...wordsOf(ticks), resolution)).toBe(Number(micros));
        },
      ),
    );
  });
});
