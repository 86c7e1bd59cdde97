import { describe, expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../boat/signal-table.ts";
import { SECOND } from "../../ground/time.ts";
import type { UnitCode } from "../../units/codes.ts";
import { subjectLines } from "./signal-lines.ts";

class Signals {
  readonly table = new SignalTable();

  add(name: string, unit: UnitCode, value: number, heard: number, facts?: Partial<SignalFacts>) {
    const [group, ...rest] = name.split("/");
    const subject = rest.length > 1 ? rest[0] : "";
    const quantity = rest.slice(rest.length > 1 ? 1 : 0).join("/");
    const signal = this.table.intern({
      ...{ name, group, subject, quantity, unit, decimals: 2, words: null, span: null },
      derived: false,
      ...facts,
    });
    this.table.carriers[signal] = this.table.addCarrier();
    this.table.carrierHeard[this.table.carriers[signal]] = heard;
    this.table.set(signal, value, Quality.good, Reason.none, heard);
    return signal;
  }

  lines() {
    const owners = { pressure: "psi" };
    return subjectLines(this.table, owners, (steady) => steady + 1000 * SECOND);
  }
}

describe("the list of signals", () => {
  test("stands by subject, in an order of its own", () => {
    const signals = new Signals();
    signals.add("wind/apparent-speed", "m/s", 4, SECOND);
    signals.add("tank/fuel-port/level", "%", 50, SECOND);
    signals.add("engine/port/speed", "1/min", 1800, SECOND);
    signals.add("teapot/galley/level", "%", 50, SECOND);
    signals.add("engine/starboard/speed", "1/min", 1800, SECOND);
    expect(signals.lines().map((subject) => subject.title)).toEqual([
      "Port engine",
      "Starboard engine",
      "Tanks",
      "Wind and weather",
      "Galley teapot",
    ]);
    expect(signals.lines()[3].signals[0].name).toBe("Apparent wind speed");
    expect(signals.lines()[2].signals[0].name).toBe("Fuel port level");
  });

  test("gives values in the owner's units, with the time of day they were heard", () => {
    const signals = new Signals();
    signals.add("engine/port/oil-pressure", "Pa", 345_000, 5 * SECOND);
    expect(signals.lines()[0].signals[0]).toMatchObject({
      name: "Oil pressure",
      value: { number: "50", unit: "psi" },
      heard: 1005 * SECOND,
      remark: "",
    });
  });

  test.each([
    [Quality.bad, Reason.notAvailable, "", "sent as not available", false],
    [Quality.bad, Reason.notHeard, "", "not heard", true],
    [Quality.bad, Reason.outOfRange, "", "sent as out of range", false],
    [Quality.uncertain, Reason.twoSenders, "50", "uncertain: two senders", false],
    [Quality.uncertain, Reason.inferred, "50", "worked out, not measured", false],
  ])("puts quality %d, reason %d into words", (quality, reason, number, remark, lost) => {
    const signals = new Signals();
    const signal = signals.add("tank/water/level", "%", 50, SECOND);
    signals.table.set(signal, quality === Quality.bad ? NaN : 50, quality, reason, SECOND);
    const [line] = signals.lines()[0].signals;
    expect(line).toMatchObject({ remark, lost });
    expect(line.value.number).toBe(number);
  });

  test("tells what was never heard from what is heard no more", () => {
    const signals = new Signals();
    const signal = signals.add("tank/water/level", "%", NaN, 0);
    signals.table.set(signal, NaN, Quality.bad, Reason.notHeard, 0);
    expect(signals.lines()[0].signals[0]).toMatchObject({
      remark: "never heard",
      heard: null,
      lost: false,
    });
  });

  test("says of what is worked out aboard, and cannot be yet, that it is not known", () => {
    const signals = new Signals();
    const [told, derived] = [false, true].map((derived) =>
      signals.add(`network/main/${derived}`, "1", NaN, SECOND, { derived })
    );
    for (const signal of [told, derived]) {
      signals.table.set(signal, NaN, Quality.bad, Reason.notAvailable, SECOND);
    }
    const [{ signals: lines }] = signals.lines();
    expect(lines.map(({ remark }) => remark).toSorted()).toEqual([
      "not known yet",
      "sent as not available",
    ]);
  });

  test("says words, switches and positions as a person does", () => {
    const signals = new Signals();
    const words = new Map([[3, "not-charging"]]);
    signals.add("charger/shore/operating-state", "", 3, SECOND, { words });
    signals.add("bilge/aft/pump", "1", 1, SECOND);
    signals.add("position/latitude", "deg", -50.5, SECOND);
    expect(signals.lines().flatMap((subject) => subject.signals.map((line) => line.value)))
      .toEqual([
        { number: "not charging", unit: "" },
        { number: "on", unit: "" },
        { number: "50.50000", unit: "° S" },
      ]);
  });

  test("says how many, of what is counted", () => {
    const signals = new Signals();
    signals.add("network/main/error-frames", "1", 0, SECOND);
    signals.add("network/main/frames", "1", 241, SECOND);
    signals.add("bilge/aft/starts-per-hour", "1/h", 4, SECOND);
    const values = signals.lines().flatMap((subject) => subject.signals.map((one) => one.value));
    expect(values).toEqual([
      { number: "4", unit: "per hour" },
      { number: "0", unit: "" },
      { number: "241", unit: "" },
    ]);
  });

  test("folds the bits that a device reports about itself into one line", () => {
    const signals = new Signals();
    const bit = signals.add("engine/port/status/low-oil-pressure", "1", 0, SECOND);
    signals.add("engine/port/status/over-temperature", "1", 0, SECOND);
    const line = () => signals.lines()[0].signals;
    expect(line()).toMatchObject([{ value: { number: "nothing reported" }, remark: "" }]);
    signals.table.set(bit, 1, Quality.good, Reason.none, SECOND);
    expect(line()).toMatchObject([
      { value: { number: "1 reported" }, remark: "low oil pressure" },
    ]);
  });

  test("does not take bits that are not sent for bits that are not set", () => {
    const signals = new Signals();
    const bit = signals.add("engine/port/status/low-oil-pressure", "1", 0, SECOND);
    signals.table.set(bit, NaN, Quality.bad, Reason.notAvailable, SECOND);
    expect(signals.lines()[0].signals).toMatchObject([
      { value: { number: "" }, remark: "sent as not available" },
    ]);
  });
});
