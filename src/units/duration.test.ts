import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DAY, HOUR, MINUTE, SECOND } from "../ground/time.ts";
import { parseDuration, sayDuration } from "./duration.ts";

describe("a length of time", () => {
  test.each([
    ["3 s", 3 * SECOND],
    ["100 ms", 100_000],
    ["10 min", 10 * MINUTE],
    ["1 h 30 min", 90 * MINUTE],
    ["1h30min", 90 * MINUTE],
    ["0 s", 0],
    ["1.5 h", 90 * MINUTE],
    ["2 days", 2 * DAY],
  ])("%s", (text, value) => {
    expect(parseDuration(text)).toEqual({ ok: true, value });
  });

  test.each(["", "3", "-3 s", "30 min 1 h", "3 s 4 s", "3 V", "s", "3 s later", "1e9 d"])(
    "%j is none",
    (text) => {
      expect(parseDuration(text)).toMatchObject({ ok: false, found: text });
    },
  );

  test("with a misspelled unit gets the nearest one", () => {
    expect(parseDuration("10 minuts")).toMatchObject({ nearest: "10 min" });
  });

  test("is said in its two largest parts", () => {
    expect(sayDuration(0)).toBe("0 s");
    expect(sayDuration(250_000)).toBe("250 ms");
    expect(sayDuration(3 * SECOND)).toBe("3 s");
    expect(sayDuration(160 * SECOND)).toBe("2 min 40 s");
    expect(sayDuration(DAY + 4 * HOUR + MINUTE)).toBe("1 d 4 h");
    expect(sayDuration(2 * HOUR)).toBe("2 h");
  });

  test("never throws, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const read = parseDuration(text);
      if (read.ok) expect(Number.isSafeInteger(read.value)).toBe(true);
    }));
  });

  test("is read as it is said", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 90 * 86_400 }), (seconds) => {
      const said = sayDuration(seconds * SECOND);
      const read = parseDuration(said);
      expect(read.ok && sayDuration(read.value)).toBe(said);
    }));
  });
});
