import { describe, expect, test } from "vitest";
import { Quality, Reason } from "./quality.ts";
import { SignalTable } from "./signal-table.ts";

/** A table with two signals; `turn` gives both another value and returns the fresh ones' names. */
class TwoSignals {
  readonly table = new SignalTable();
  #value = 0;

  turn(): string[] {
    const { table } = this;
    this.#value++;
    for (const name of ["engine/port/speed", "engine/port/load"]) {
      const signal = table.intern({
        name,
        group: "engine",
        subject: "port",
        quantity: name.slice("engine/port/".length),
        unit: "1",
        decimals: 0,
        words: null,
        span: null,
        derived: false,
      });
      table.set(signal, this.#value, Quality.good, Reason.none, this.#value);
      // Twice in one message: it is on the list once.
      table.set(signal, this.#value, Quality.good, Reason.none, this.#value);
    }
    const fresh = [...table.fresh.subarray(0, table.freshCount)];
    table.clearFresh();
    return fresh.map((signal) => table.facts[signal].name);
  }
}

describe("the list of fresh signals", () => {
  test("has every signal that changed, once", () => {
    const signals = new TwoSignals();
    for (let i = 0; i < 3; i++) {
      expect(signals.turn()).toEqual(["engine/port/speed", "engine/port/load"]);
    }
  });

  test("has only those that are heeded where others are left out, but for their first value", () => {
    const signals = new TwoSignals();
    signals.table.leaveOutUnheeded();
    expect(signals.turn()).toEqual(["engine/port/speed", "engine/port/load"]);
    expect(signals.turn()).toEqual([]);
    signals.table.heed(signals.table.find("engine/port/load"));
    expect(signals.turn()).toEqual(["engine/port/load"]);
    expect(signals.turn()).toEqual(["engine/port/load"]);
  });

  test("has a signal once that is heeded while it is on the list for the first time", () => {
    const { table } = new TwoSignals();
    table.leaveOutUnheeded();
    const facts = { group: "engine", subject: "port", unit: "1", decimals: 0 } as const;
    const rest = { words: null, span: null, derived: false } as const;
    const signal = table.intern({
      name: "engine/port/speed",
      quantity: "speed",
      ...facts,
      ...rest,
    });
    table.set(signal, 1, Quality.good, Reason.none, 1);
    table.heed(signal);
    table.set(signal, 2, Quality.good, Reason.none, 1);
    expect(table.freshCount).toBe(1);
    table.clearFresh();
    table.set(signal, 3, Quality.good, Reason.none, 2);
    expect(table.freshCount).toBe(1);
  });

  test("leaves the list of touched signals as it is", () => {
    const signals = new TwoSignals();
    signals.table.leaveOutUnheeded();
    signals.turn();
    signals.table.clearTouched();
    signals.turn();
    signals.turn();
    expect(signals.table.touchedCount).toBe(2);
  });
});
