import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Columns } from "./columns.ts";
import { decodeMessage } from "./decode-message.ts";
import { encodeMessage } from "./encode.ts";
import { decodeGroups, groupCount } from "./groups.ts";
import { readRaw } from "./read-field.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const LINES = columns.rowOf(127503);
const LIST = columns.rowOf(126464);
const TEXTS = columns.rowOf(126998);

const lines = encodeMessage(ALL_ROWS[LINES], { instance: 0 }, [
  { line: "line-1", voltage: 230.5, "real-power": 1500, acceptability: "good" },
  { line: "line-2", voltage: 231 },
]);

describe("groups at the end of a message", () => {
  test("are counted where the message says how many there are", () => {
    expect([...lines.subarray(0, 2)]).toEqual([0, 2]);
    expect(lines).toHaveLength(2 + 2 * 18);
    expect(decodeGroups(columns, LINES, lines, 0, lines.length)).toMatchObject([
      { line: { value: "line-1" }, voltage: { value: 230.5 }, "real-power": { value: 1500 } },
      { line: { value: "line-2" }, voltage: { value: 231 }, "real-power": { value: null } },
    ]);
  });

  test("are no more than the message is long, and no more than it says", () => {
    expect(groupCount(columns, LINES, lines, 0, lines.length - 1)).toBe(1);
    expect(groupCount(columns, LINES, lines, 0, 1)).toBe(0);
    const one = lines.with(1, 1);
    expect(groupCount(columns, LINES, one, 0, one.length)).toBe(1);
    expect(groupCount(columns, LINES, lines.with(1, 0xff), 0, lines.length)).toBe(2);
  });

  test("fill the message where it does not count them", () => {
    const bytes = encodeMessage(ALL_ROWS[LIST], { direction: "received" }, [
      { pgn: 127488 },
      { pgn: 59904 },
    ]);
    expect(bytes).toHaveLength(7);
    expect(decodeGroups(columns, LIST, bytes, 0, 7).map(({ pgn }) => pgn.value))
      .toEqual([127488, 59904]);
    expect(groupCount(columns, LIST, bytes, 0, 6)).toBe(1);
  });

  test("can be read one field at a time, without an object", () => {
    const group = columns.groups[LINES];
    const voltage = columns.groupFieldOf(LINES, "voltage");
    if (group === null) throw new Error("no groups");
    const raw = readRaw(columns, voltage, lines, group.start + group.length);
    expect(raw * columns.resolution[voltage]).toBeCloseTo(231, 9);
  });

  test("of a row that has none are none, and their fields are not known", () => {
    const plain = columns.rowOf(127488);
    expect(decodeGroups(columns, plain, new Uint8Array(8), 0, 8)).toEqual([]);
    expect(columns.groupFieldOf(plain, "voltage")).toBe(-1);
    expect(columns.groupFieldOf(LINES, "volts")).toBe(-1);
    expect(() => encodeMessage(ALL_ROWS[plain], {}, [{}])).toThrow("PGN 127488 repeats nothing");
  });

  test("with a field that they do not have are refused", () => {
    expect(() => encodeMessage(ALL_ROWS[LINES], {}, [{ voltag: 3 }])).toThrow(
      'did you mean "voltage"?',
    );
  });
});

describe("texts at the end of a message", () => {
  const names = ["installation-1", "installation-2", "manufacturer-information"];
  const decode = (bytes: Uint8Array) =>
    Object.entries(decodeMessage(columns, TEXTS, bytes, 0, bytes.length))
      .map(([name, { value }]) => [name, value]);

  test("are read with their own length, in either alphabet", () => {
    const plain = [5, 1, 0x41, 0x42, 0x43];
    const wide = [6, 0, 0xdf, 0x00, 0x16, 0x04];
    expect(decode(Uint8Array.from([...plain, ...wide, 2, 1]))).toEqual([
      [names[0], "ABC"],
      [names[1], "ßЖ"],
      [names[2], null],
    ]);
  });

  test.each([
    ["a length that points beyond the end", [9, 1, 0x41]],
    ["a length that is none", [0, 1, 0x41, 0x42]],
    ["a length alone", [3]],
    ["nothing", []],
  ])("end at %s", (_, bytes) => expect(decode(Uint8Array.from(bytes))).toEqual([]));

  test("keep what is no letter off the screen", () => {
    const bytes = Uint8Array.from([8, 0, 0x41, 0, 0x1b, 0, 0x00, 0xd8, 2, 1, 2, 1]);
    expect(decode(bytes)[0]).toEqual([names[0], "A\ufffd\ufffd"]);
  });

  test("are never a crash, whatever the bytes", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 223 }), (bytes) => {
      for (const [name, value] of decode(bytes)) {
        expect(names).toContain(name);
        if (value !== null) expect(value).not.toMatch(/\p{C}/u);
      }
    }));
  });

  test("that are too long, or no texts, are refused", () => {
    const encode = (text: string | number) =>
      encodeMessage(ALL_ROWS[TEXTS], { "installation-1": text });
    expect(() => encode("ж".repeat(127))).toThrow("expected at most 253");
    expect(() => encode(7)).toThrow("expected a text");
  });
});
