import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { SECOND } from "../ground/time.ts";
import { isProprietary, MOST_UNKNOWN, UnknownPgns } from "./unknown-pgns.ts";

function messageOf(pgn: number, source: number, bytes: readonly number[], bus = 0) {
  const rest = { row: -1, destination: 255, start: 0, length: bytes.length };
  return { pgn, source, bus, bytes: Uint8Array.from(bytes), ...rest };
}

/** Manufacturer 1234, two reserved bits, the marine industry. */
const MAKER = [0xd2, 0x9c];

describe("messages that no row describes", () => {
  test("are counted by bus, sender and PGN, with rate and late bytes", () => {
    const unknown = new UnknownPgns();
    for (let i = 0; i < 5; i++) unknown.take(messageOf(130000, 7, [i, 2]), i * SECOND / 2);
    unknown.take(messageOf(130000, 8, [1]), SECOND);
    unknown.take(messageOf(130000, 7, [1], 1), SECOND);
    expect(unknown.list).toMatchObject([
      { bus: 0, source: 7, pgn: 130000, count: 5, rate: 2, sample: Uint8Array.of(4, 2) },
      { bus: 0, source: 8, count: 1, rate: null },
      { bus: 1, source: 7, count: 1, firstHeard: SECOND, lastHeard: SECOND },
    ]);
    expect(unknown.list[0]).toMatchObject({ isProprietary: false, manufacturerCode: null });
  });

  test.each([
    ["a single frame", 61184, [...MAKER, 1, 2], 1234],
    ["a single frame to everybody", 65300, [...MAKER, 1, 2], 1234],
    ["the first frame of a fast packet", 130900, [0x40, 12, ...MAKER, 1, 2, 3, 4], 1234],
    ["a later frame of a fast packet", 130900, [0x41, 12, ...MAKER, 1, 2, 3, 4], null],
    ["a message of another industry", 65300, [0xd2, 0x1c, 1, 2], null],
    ["a frame that is cut off", 65300, [0xd2], null],
    ["a PGN of the standard's own", 130000, [...MAKER, 1, 2], null],
  ])("name their maker in %s", (_, pgn, bytes, manufacturerCode) => {
    const unknown = new UnknownPgns();
    unknown.take(messageOf(pgn, 7, bytes), SECOND);
    expect(unknown.list).toMatchObject([{ manufacturerCode }]);
  });

  test("keep the maker that their first frame named", () => {
    const unknown = new UnknownPgns();
    unknown.take(messageOf(126720, 7, [0x40, 12, ...MAKER, 1, 2, 3, 4]), SECOND);
    unknown.take(messageOf(126720, 7, [0x41, 5, 6, 7, 8, 9, 10, 11]), SECOND);
    expect(unknown.list).toMatchObject([{ manufacturerCode: 1234, count: 2 }]);
  });

  test("beyond the most that are kept apart are still counted", () => {
    const unknown = new UnknownPgns();
    for (let i = 0; i < MOST_UNKNOWN + 9; i++) unknown.take(messageOf(130000 + i, 7, []), SECOND);
    expect([unknown.list.length, unknown.overflow]).toEqual([MOST_UNKNOWN, 9]);
  });

  test("never lose one, whatever comes", () => {
    const some = fc.array(fc.tuple(fc.nat(0x3ffff), fc.nat(255), fc.uint8Array({ maxLength: 8 })));
    fc.assert(fc.property(some, (messages) => {
      const unknown = new UnknownPgns();
      for (const [pgn, source, bytes] of messages) {
        unknown.take(messageOf(pgn, source, [...bytes]), SECOND);
      }
      const counted = unknown.list.reduce((sum, { count }) => sum + count, 0);
      expect(counted + unknown.overflow).toBe(messages.length);
    }));
  });
});

test("the makers' own PGNs are those that the standards set aside", () => {
  const own = Array.from({ length: 0x3ffff }, (_, pgn) => pgn).filter(isProprietary);
  const ranges = [61184, 65280, 65535, 126720, 130816, 131071];
  expect(ranges.filter((pgn) => own.includes(pgn))).toEqual(ranges);
  expect(own).toHaveLength(1 + 256 + 1 + 256);
});
