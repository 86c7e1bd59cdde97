import { Alarms } from "../../src/alarms/alarms.ts";
import type { AlarmRecord } from "../../src/alarms/alarm-record.ts";
import type { Answer, AnswerOutcome } from "../../src/alarms/answer.ts";
import type { AlarmChange } from "../../src/alarms/change.ts";
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import type { Rule } from "../../src/alarms/rules/rule.ts";
import { placeOfName } from "../../src/alarms/rules/signal-name.ts";
import { type Boat, type Subject, UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BOAT_CONDITIONS } from "../../src/boat/boat-state.ts";
import { KnownQuantities } from "../../src/boat/known-quantities.ts";
import { QUANTITIES } from "../../src/boat/quantities.ts";
import { Quality, Reason } from "../../src/boat/quality.ts";
import { SignalTable } from "../../src/boat/signal-table.ts";
import { sayProblems } from "../../src/ground/problem-words.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

export const KNOWN = new KnownQuantities(ALL_ROWS);

/** What one message says of signals: a number, a word, or how it is not known. */
export type Said = Readonly<Record<string, number | string>>;

const UNKNOWN: Readonly<Record<string, readonly [Quality, Reason]>> = {
  "not available": [Quality.bad, Reason.notAvailable],
  "not heard": [Quality.bad, Reason.notHeard],
  "two senders": [Quality.uncertain, Reason.twoSenders],
};

const BOAT_WORDS = new Map(BOAT_CONDITIONS.map((word, code) => [code, word]));
const SWITCH_WORDS = new Map([[0, "off"], [1, "on"]]);

export function rulesOf(text: string): readonly Rule[] {
  const { value, problems } = readRules("rules.yaml", text, KNOWN);
  if (value === undefined) throw new Error(sayProblems(problems, "nothing was changed"));
  return value.rules;
}

/** Boat with these subjects; numbers and words as the boat file would give them. */
export function boatWith(
  subjects: readonly (Partial<Subject> & Pick<Subject, "group" | "name">)[],
): Boat {
  const whole = subjects.map((subject) => ({
    keys: [],
    words: {},
    numbers: {},
    relations: {},
    ...subject,
  }));
  return { ...UNKNOWN_BOAT, subjects: whole, units: { pressure: "psi" } };
}

/**
 * A signal table filled by hand, and rules that judge it. Times are seconds from the start; a
 * signal is made when it is first said. Old ages are 1 s for all.
 */
export class HandMadeBoat {
  readonly table = new SignalTable();
  readonly alarms: Alarms;
  readonly changes: AlarmChange[] = [];
  readonly #rules: readonly Rule[];

  constructor(
    rules: string | readonly Rule[],
    readonly boat: Boat = boatWith([]),
    memory: readonly AlarmRecord[] = [],
  ) {
    for (const { group, name } of boat.subjects) this.table.addSubject(group, name);
    this.#rules = typeof rules === "string" ? rulesOf(rules) : rules;
    this.alarms = new Alarms({
      rules: this.#rules,
      table: this.table,
      boat,
      memory,
      timeline: { wallOf: (steady) => steady },
      oldAgeOf: () => SECOND,
      sendersOf: () => ["address 3", "address 7"],
    });
  }

  /** Timers due by then act, then one message comes. */
  at(seconds: number, said: Said): this {
    return this.atMicros(micros(seconds), said);
  }

  atMicros(now: Micros, said: Said): this {
    this.untilMicros(now);
    this.#sayAll(said, now);
    this.alarms.judge(now);
    this.changes.push(...this.alarms.drainChanges());
    return this;
  }

  /** What a message says goes into the table, and nobody judges it. */
  say(seconds: number, said: Said): void {
    this.#sayAll(said, micros(seconds));
  }

  /** Time passes without a message. */
  until(seconds: number): this {
    return this.untilMicros(micros(seconds));
  }

  untilMicros(now: Micros): this {
    while (this.alarms.nextDue <= now) this.alarms.runTimer();
    this.changes.push(...this.alarms.drainChanges());
    return this;
  }

  answer(seconds: number, tag: string, subject: string, occurrence: number) {
    return this.person(seconds, { kind: "acknowledge", tag, subject, occurrence, who: "Ann" });
  }

  /** What a person does, aboard or from afar; the outcome. */
  person(seconds: number, answer: Answer, isAfar = false): AnswerOutcome {
    this.until(seconds);
    const outcome = this.alarms.answer(answer, micros(seconds), isAfar);
    this.changes.push(...this.alarms.drainChanges());
    return outcome;
  }

  /** `12.5 oil-low port unacknowledged`, one for each change so far. */
  get story(): string[] {
    return this.changes.map(({ time, tag, subject, to }) =>
      `${(time - START) / SECOND} ${tag} ${subject} ${to}`
    );
  }

  #sayAll(said: Said, now: Micros): void {
    for (const [name, value] of Object.entries(said)) this.#say(name, value, now);
  }

  #say(name: string, value: number | string, now: Micros): void {
    const { table } = this;
    const signal = this.#signal(name);
    if (value !== "not heard") table.carrierHeard[table.carriers[signal]] = now;
    if (typeof value === "number") {
      if (table.qualities[signal] !== Quality.good || table.values[signal] !== value) {
        table.set(signal, value, Quality.good, Reason.none, now);
      }
      return;
    }
    if (Object.hasOwn(UNKNOWN, value)) {
      const [quality, reason] = UNKNOWN[value];
      const kept = quality === Quality.bad ? NaN : table.values[signal];
      table.set(signal, kept, quality, reason, now);
      return;
    }
    const code = [...table.facts[signal].words ?? []].find(([, word]) => word === value)?.[0];
    if (code === undefined) throw new Error(`${name} does not read ${value}`);
    table.set(signal, code, Quality.good, Reason.none, now);
  }

  #signal(name: string): number {
    const known = this.table.find(name);
    if (known >= 0) return known;
    const { group, subject, quantity } = placeOfName(name);
    const isBoats = name === "boat/condition";
    const unit = isBoats ? "" : KNOWN.unitOf(group, quantity) ?? "1";
    const signal = this.table.intern({
      name,
      group,
      subject,
      quantity,
      unit,
      decimals: 2,
      words: isBoats ? BOAT_WORDS : unit === "" ? wordsOf(group, quantity) : null,
      span: QUANTITIES[quantity]?.span ?? null,
      derived: false,
    });
    this.table.carriers[signal] = this.table.addCarrier();
    return signal;
  }
}

/** When the hand-made boat begins. */
export const START: Micros = 1_781_431_200 * SECOND;

export function micros(seconds: number): Micros {
  return START + Math.round(seconds * SECOND);
}

/** In the order of their codes, as the rows have them; a contact's where nothing else is known. */
function wordsOf(group: string, quantity: string): ReadonlyMap<number, string> {
  const known = KNOWN.wordsOf(group, quantity);
  return known === undefined ? SWITCH_WORDS : new Map(known.map((word, code) => [code, word]));
}
