import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";

/** 127503 of instance 0 with lines 1 and 2: 230 V, 4.2 A, 50 Hz; 231 V, nothing else. */
const TWO_LINES = [
  "00 02",
  "0C D8 59 2A 00 88 13 A0 00 C6 03 00 00 FF FF FF FF 64",
  "0D 3C 5A FF FF FF FF FF FF FF FF FF FF FF FF FF FF FF",
].join(" ");

describe("lines of alternating current", () => {
  test("are signals of the connection; the first goes without saying", () => {
    const boat = new TalkingBoat({
      subjects: [{
        group: "shore-power",
        name: "main",
        keys: [{ quantity: "self", instance: 0 }],
        words: {},
        numbers: {},
        relations: {},
      }],
    });
    boat.sayBytes(0, 127503, TWO_LINES);
    expect(boat.read("shore-power/main/voltage")).toBe("230 good");
    expect(boat.read("shore-power/main/current")).toBe("4.2 good");
    expect(boat.read("shore-power/main/frequency")).toBe("50 good");
    expect(boat.read("shore-power/main/power")).toBe("966 good");
    expect(boat.read("shore-power/main/acceptability")).toBe("good good");
    expect(boat.read("shore-power/main/line-2-voltage")).toBe("231 good");
    expect(boat.read("shore-power/main/line-2-current")).toBe("bad not-available");
    expect(boat.signals.carried().map((signal) => boat.names()[signal])).toEqual(boat.names());
  });

  test("grow old each by itself", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 127503, TWO_LINES);
    boat.sayBytes(3, 127503, TWO_LINES.slice(0, 5 + 18 * 3).replace("00 02", "00 01"));
    boat.pass(4.5);
    expect(boat.read("shore-power/0/voltage")).toBe("230 good");
    expect(boat.read("shore-power/0/line-2-voltage")).toBe("bad not-heard");
  });

  test("that are cut off are none", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 127503, TWO_LINES, { length: 30 });
    expect(boat.read("shore-power/0/voltage")).toBe("230 good");
    expect(boat.read("shore-power/0/line-2-voltage")).toBe("none");
  });
});
