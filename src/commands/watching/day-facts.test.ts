import { describe, expect, test } from "vitest";
import { type Boat, UNKNOWN_BOAT } from "../../boat/boat.ts";
import { Quality, Reason } from "../../boat/quality.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { DAY, MINUTE, parseIsoTime } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import type { MinuteRecord } from "../../store/minute-record.ts";
import type { UnitCode } from "../../units/codes.ts";
import { Watch } from "../../watch.ts";
import { dayFacts, runsOf } from "./day-facts.ts";

const MORNING = parseIsoTime("2026-06-14T07:00:00Z") ?? 0;
const THIS_MINUTE = MORNING / MINUTE;

const pump = (minute: number, max: number): MinuteRecord => ({
  ...{ name: "bilge/aft/pump", unit: "1", decimals: 0, length: 1, count: 60 },
  ...{ minute, min: 0, mean: max / 2, max },
});

/** What the daily line says of a boat with these signals; null: not heard. */
async function valuesOf(
  signals: readonly (readonly [name: string, unit: UnitCode, value: number | null])[],
  records: readonly MinuteRecord[] = [],
  boat: Boat = UNKNOWN_BOAT,
): Promise<readonly string[]> {
  const watch = new Watch({ boat, rules: [], busNames: new BusNames() });
  const { table } = watch.signals;
  for (const [name, unit, value] of signals) {
    const parts = name.split("/");
    const [group, quantity] = [parts[0], parts[parts.length - 1]];
    const subject = parts.length > 2 ? parts[1] : "";
    const about = { name, group, subject, quantity, unit };
    const i = table.intern({ ...about, decimals: 2, words: null, span: null, derived: false });
    const isKnown = value !== null;
    const reason = isKnown ? Reason.none : Reason.notHeard;
    table.set(i, value ?? NaN, isKnown ? Quality.good : Quality.bad, reason, 1);
  }
  const { history } = new MemoryStore("00112233aabbccdd");
  await history.add(records, false);
  const facts = await dayFacts({
    ...{ watch, boat, history, since: MORNING - DAY, wall: MORNING },
    ...{ stood: new Map(), troubled: null },
  });
  return facts.values;
}

describe("what the daily line tells of a boat", () => {
  test("is her batteries, her shore power, her pumps and where she lies", async () => {
    const mooring = { latitude: 50.4, longitude: -7.9, radius: 40 };
    const values = await valuesOf(
      [
        ["battery/house/voltage", "V", 13.2],
        ["battery/1/voltage", "V", 12.8],
        ["shore-power/main/voltage", "V", 231],
        ["bilge/aft/pump", "1", 0],
        ["position/latitude", "deg", 50.400054],
        ["position/longitude", "deg", -7.9],
      ],
      [pump(THIS_MINUTE - 700, 1), pump(THIS_MINUTE - 60, 1)],
      { ...UNKNOWN_BOAT, mooring },
    );
    expect(values).toEqual([
      ...["house 13.2 V", "battery 1 12.8 V", "shore power on", "aft pump ran twice"],
      "6 m from the mooring",
    ]);
  });

  test("says what has no reading, and makes nothing of it", async () => {
    const mooring = { latitude: 50.4, longitude: -7.9, radius: 40 };
    expect(
      await valuesOf(
        [["battery/house/voltage", "V", null], ["shore-power/main/voltage", "V", null]],
        [],
        { ...UNKNOWN_BOAT, mooring },
      ),
    ).toEqual(["house: no reading", "shore power: no reading", "where she is: no reading"]);
  });

  test("leaves out a pump of which nothing was kept", async () => {
    expect(await valuesOf([["bilge/aft/pump", "1", 1]])).toEqual([]);
  });
});

describe("a pump", () => {
  test("that ran over several minutes ran once", () => {
    expect(runsOf([pump(1, 0), pump(2, 1), pump(3, 1), pump(4, 0), pump(9, 1)])).toBe(2);
  });

  test("has ended its run where minutes are missing", () => {
    expect(runsOf([pump(2, 1), pump(7, 1)])).toBe(2);
  });

  test("that never ran did not run", () => {
    expect(runsOf([pump(1, 0), pump(2, 0)])).toBe(0);
  });
});
