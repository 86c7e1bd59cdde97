import { describe, expect, test } from "vitest";
import { Quality, Reason } from "../boat/quality.ts";
import { type SignalFacts, SignalTable } from "../boat/signal-table.ts";
import { HOUR, type Micros, MINUTE, SECOND } from "../ground/time.ts";
import { USUAL_PLAN } from "./history-plan.ts";
import { type FinishedMinutes, HistoryRecorder } from "./history-recorder.ts";

/** 2026-06-14T10:00Z */
const TEN: Micros = 1_781_431_200 * SECOND;
const AT_TEN = TEN / MINUTE;

/** A table with one voltage and one word, and a clock that can be set. */
class Told {
  readonly table = new SignalTable();
  step: Micros = 0;
  readonly recorder: HistoryRecorder;
  readonly #finished: FinishedMinutes[] = [];

  constructor(listed = [{ name: "*/*/*", every: 1 }]) {
    this.recorder = new HistoryRecorder({
      table: this.table,
      plan: { ...USUAL_PLAN, listed },
      isNamed: (signal) => this.table.facts[signal].quantity === "named",
      wallOf: (steady) => steady + this.step,
    });
  }

  hear(now: Micros, value: number, name = "battery/house/voltage", facts = {}): void {
    const signal = this.table.intern({ ...VOLTAGE, ...partsOf(name), ...facts });
    if (this.table.carriers[signal] < 0) this.table.carriers[signal] = this.table.addCarrier();
    this.table.carrierMessages[this.table.carriers[signal]]++;
    this.table.carrierHeard[this.table.carriers[signal]] = now;
    const quality = Number.isNaN(value) ? Quality.bad : Quality.good;
    const reason = Number.isNaN(value) ? Reason.notHeard : Reason.none;
    this.table.set(signal, value, quality, reason, now);
    this.recorder.take(now);
    this.table.clearFresh();
  }

  records(now: Micros) {
    this.recorder.reach(now);
    this.#finished.push(...this.recorder.drain());
    return this.#finished.flatMap(({ records }) => records);
  }
}

describe("the recorder", () => {
  test("finishes each minute of the wall clock once, whole", () => {
    const told = new Told();
    told.hear(TEN + 30 * SECOND, 12);
    told.hear(TEN + 45 * SECOND, 13);
    told.hear(TEN + 61 * SECOND, 14);
    expect(told.records(TEN + 2 * MINUTE)).toEqual([
      { ...RECORD, minute: AT_TEN, count: 2, min: 12, mean: 12.5, max: 13 },
      { ...RECORD, minute: AT_TEN + 1, count: 1, min: 13, mean: 13.98333, max: 14 },
    ]);
  });

  test("says what a standing value was, with no message counted", () => {
    const told = new Told();
    told.hear(TEN, 12);
    expect(told.records(TEN + 2 * MINUTE).at(-1)).toEqual(
      { ...RECORD, minute: AT_TEN + 1, count: 0, min: 12, mean: 12, max: 12 },
    );
  });

  test("says nothing of a signal that has no value", () => {
    const told = new Told();
    told.hear(TEN, 12);
    told.hear(TEN + 90 * SECOND, NaN);
    expect(told.records(TEN + 5 * MINUTE).map(({ minute }) => minute)).toEqual([
      AT_TEN,
      AT_TEN + 1,
    ]);
  });

  test("says which word a signal read at the end", () => {
    const told = new Told();
    const words = new Map([[3, "float"]]);
    told.hear(TEN, 3, "charger/shore/operating-state", { unit: "", words });
    told.hear(TEN + 70 * SECOND, 9, "charger/shore/operating-state");
    expect(told.records(TEN + 2 * MINUTE)).toEqual([
      { name: "charger/shore/operating-state", minute: AT_TEN, length: 1, count: 1, word: "float" },
      expect.objectContaining({ minute: AT_TEN + 1, word: "code-9" }),
    ]);
  });

  test("keeps what rules name and what is listed, and nothing else", () => {
    const told = new Told([{ name: "tank/*/level", every: 5 }]);
    for (const name of ["a/b/named", "tank/fuel/level", "tank/fuel/deeper/level", "c/d/e"]) {
      told.hear(TEN, 1, name);
    }
    expect(
      told.records(TEN + 5 * MINUTE).map(({ name, minute, length }) =>
        `${name} ${minute - AT_TEN} ${length}`
      ),
    ).toEqual([
      ...[0, 1, 2, 3].map((minute) => `a/b/named ${minute} 1`),
      "a/b/named 4 1",
      "tank/fuel/level 0 5",
    ]);
  });

  test("makes nothing up for a time when nobody called", () => {
    const told = new Told();
    told.hear(TEN, 12);
    told.hear(TEN + 5 * SECOND, 13);
    told.hear(TEN + 3 * HOUR, 14);
    expect(told.records(TEN + 3 * HOUR + MINUTE)).toEqual([
      { ...RECORD, minute: AT_TEN, count: 2, min: 12, mean: 12, max: 13 },
      { ...RECORD, minute: AT_TEN + 180, count: 1, min: 13, mean: 14, max: 14 },
    ]);
  });
});

describe("while the clock is unset", () => {
  test("minutes are provisional, then moved, and none is told twice or left out", () => {
    const told = new Told();
    const year = 1970 * SECOND; // the computer began in 1970
    told.hear(year, 12);
    for (let i = 1; i <= 10; i++) told.hear(year + i * 20 * SECOND, 12 + i);
    told.recorder.reach(year + 210 * SECOND);
    const before = told.recorder.drain();
    expect(before.every(({ provisional }) => provisional)).toBe(true);
    expect(told.recorder.shift).toBeUndefined();

    told.step = TEN - year; // set: it was ten when the program began
    const after = told.records(year + 400 * SECOND);
    const { shift } = told.recorder;
    const provisional = before.flatMap(({ records }) => records);
    const minutes = [
      ...provisional.map(({ minute }) => minute + (shift ?? 0)),
      ...after.map((one) => one.minute),
    ];
    expect(minutes).toEqual([-1, 0, 1, 2, 3, 4, 5].map((minute) => AT_TEN + minute));
    const count = [...provisional, ...after].reduce((sum, one) => sum + one.count, 0);
    expect(count).toBe(11);
  });

  test("a clock that is known from the start moves nothing", () => {
    const told = new Told();
    told.hear(TEN, 12);
    told.recorder.reach(TEN + HOUR);
    expect(told.recorder.shift).toBeUndefined();
    expect(told.recorder.drain().some(({ provisional }) => provisional)).toBe(false);
  });
});

const VOLTAGE: SignalFacts = {
  name: "",
  group: "",
  subject: "",
  quantity: "",
  unit: "V",
  decimals: 2,
  words: null,
  span: null,
  derived: false,
};

const RECORD = { name: "battery/house/voltage", unit: "V", decimals: 2, length: 1 };

function partsOf(name: string) {
  const [group, subject, ...quantity] = name.split("/");
  return { name, group, subject, quantity: quantity.join("/") };
}
