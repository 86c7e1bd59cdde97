import { describe, expect, test } from "vitest";
import { MORNING, TalkingBoat } from "../../tests/support/talking-boat.ts";
import { SignalTable } from "../boat/signal-table.ts";
import { CSV_HEADER, csvRows } from "./csv.ts";

/** The lines for the message that a boat was told last. */
function lines(boat: TalkingBoat): string[] {
  const text = csvRows(boat.signals.table, boat.signals.carried(), MORNING + 120_003);
  expect(text.endsWith("\r\n")).toBe(true);
  return text.slice(0, -2).split("\r\n");
}

describe("CSV", () => {
  test("has one line for each value of a message, rounded by field, empty where it is bad", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127508, { instance: 0, voltage: 12.6, current: -3.2, temperature: null });
    expect(lines(boat)).toEqual([
      "2026-06-14T10:00:00.120003Z,battery/0/voltage,12.6,V,good",
      "2026-06-14T10:00:00.120003Z,battery/0/current,-3.2,A,good",
      "2026-06-14T10:00:00.120003Z,battery/0/temperature,,Cel,bad",
    ]);
  });

  test("has words as words, with an empty unit", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127507, { "instance": 0, "operating-state": "float", "enabled": "on" });
    expect(lines(boat)).toEqual([
      "2026-06-14T10:00:00.120003Z,charger/0/operating-state,float,,good",
      "2026-06-14T10:00:00.120003Z,charger/0/charge-mode,,,bad",
      "2026-06-14T10:00:00.120003Z,charger/0/enabled,on,,good",
    ]);
  });

  test("has a line for a value that came again unchanged, and none for what was not in it", () => {
    const boat = new TalkingBoat();
    for (const at of [0, 0.1]) {
      boat.say(at, 127488, { instance: 0, speed: 700.25 }, { length: 3 });
      expect(lines(boat)).toEqual([
        "2026-06-14T10:00:00.120003Z,engine/0/speed,700.25,1/min,good",
      ]);
    }
  });

  test("has no line for what the second of two senders says", () => {
    const boat = new TalkingBoat();
    boat.say(0, 129025, { latitude: 50, longitude: 0 }, { source: 1 });
    boat.say(0.1, 129025, { latitude: 51, longitude: 1 }, { source: 2 });
    expect(boat.signals.carried()).toEqual([]);
    boat.say(0.2, 129025, { latitude: 50, longitude: 0 }, { source: 1 });
    expect(lines(boat)[0]).toContain("position/latitude,50,deg,uncertain");
  });

  test("quotes what RFC 4180 wants quoted", () => {
    const table = new SignalTable();
    const signal = table.intern({
      name: 'switch/0/"a, b"',
      group: "switch",
      subject: "0",
      quantity: '"a, b"',
      unit: "1",
      decimals: 0,
      words: null,
      span: null,
      derived: false,
    });
    expect(csvRows(table, [signal], MORNING)).toContain(',"switch/0/""a, b""",,1,bad\r\n');
    expect(CSV_HEADER).toBe("time,signal,value,unit,quality\r\n");
  });
});
