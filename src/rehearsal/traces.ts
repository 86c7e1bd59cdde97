import type { Alarms } from "../alarms/alarms.ts";
import type { AlarmChange } from "../alarms/change.ts";
import { judgedSignal } from "../alarms/compile/judged-signal.ts";
import { isStanding } from "../alarms/move-words.ts";
import type { Rule } from "../alarms/rules/rule.ts";
import type { SignalReference } from "../alarms/rules/rule-parts.ts";
import { groupOfEach, isAbsolute } from "../alarms/rules/signal-name.ts";
import { Quality } from "../boat/quality.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import { type Micros, MINUTE, SECOND } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { isHidden } from "./hidden-rules.ts";

/** What a report draws of one run; plain data. Values that are not known are NaN. */
export interface RunTraces {
  /** The whole run, in steps that grow with its length. */
  readonly overview: { readonly times: readonly Micros[]; readonly speeds: readonly Trace[] };
  readonly plots: readonly AlarmPlot[];
}

export interface Trace {
  /** `engine/port/speed` */
  readonly name: string;
  readonly unit: UnitCode;
  readonly values: readonly number[];
}

/** One alarm's signals around its raising, second by second, by run time. */
export interface AlarmPlot {
  readonly tag: string;
  readonly subject: string;
  readonly occurrence: number;
  readonly times: readonly Micros[];
  readonly values: readonly number[];
  readonly limits: readonly number[];
  readonly unit: UnitCode;
  /** Word of each code, where the values are codes; null for numbers. */
  readonly words: ReadonlyMap<number, string> | null;
  /** The signal along which the limit runs. */
  readonly along: Trace | null;
}

const BEFORE: Micros = 2 * MINUTE;
const AFTER: Micros = 6 * MINUTE;
const KEPT = Math.ceil((BEFORE + AFTER) / SECOND) + 2;
/** Points of the overview; beyond twice as many every second one is left out. */
const OVERVIEW = 2_000;
/** A run with more alarms than this is not read alarm by alarm. */
export const MOST_PLOTS = 60;

const STATES: ReadonlySet<Rule["test"]["kind"]> = new Set(["reads", "bit-pattern", "discrepancy"]);
const ON_OFF: ReadonlyMap<number, string> = new Map([[0, "off"], [1, "on"]]);

/** Remembers some minutes of every judged signal and keeps them where an alarm comes. */
export class Traces {
  readonly #along: ReadonlyMap<string, (subject: string) => string>;
  /** By tag, for rules whose test has no limit: the signal that it reads. */
  readonly #states: ReadonlyMap<string, (subject: string) => string>;
  readonly #recent = new Map<string, Recent>();
  /** By tag and subject: the latest raising that is drawn. */
  readonly #drawn = new Map<string, number>();
  readonly #waiting: { due: Micros; change: AlarmChange }[] = [];
  readonly #plots: AlarmPlot[] = [];
  readonly #times: Micros[] = [];
  readonly #speeds = new Map<string, number[]>();
  #step = 1;
  #looks = 0;

  constructor(rules: readonly Rule[]) {
    this.#along = new Map(rules.flatMap(alongOf));
    this.#states = new Map(rules.flatMap(stateOf));
  }

  notice(change: AlarmChange): void {
    const { tag, subject, occurrence, to } = change;
    const key = `${tag}/${subject}`;
    if (!isStanding(to) || this.#drawn.get(key) === occurrence) return;
    this.#drawn.set(key, occurrence);
    if (this.#plots.length + this.#waiting.length < MOST_PLOTS) {
      this.#waiting.push({ due: change.time + AFTER, change });
    }
  }

  /** Once a second. @param now run time */
  look(alarms: Alarms, table: SignalTable, now: Micros): void {
    for (const one of alarms.roomLeft(now)) {
      if (isHidden(one)) continue;
      const recent = this.#recentOf(`${one.tag}/${one.subject}`);
      const name = this.#along.get(one.tag)?.(one.subject);
      recent.take(now, one.value ?? NaN, one.setpoint ?? NaN, valueOf(table, name));
      recent.unit = one.unit;
    }
    for (const [tag, nameOf] of this.#states) {
      for (const subject of alarms.subjectsOf(tag)) {
        const recent = this.#recentOf(`${tag}/${subject}`);
        recent.take(now, valueOf(table, nameOf(subject)), NaN, NaN);
      }
    }
    this.#overview(table, now);
    while (this.#waiting.length > 0 && this.#waiting[0].due <= now) this.#keep(table);
  }

  result(table: SignalTable): RunTraces {
    while (this.#waiting.length > 0) this.#keep(table);
    const speeds = [...this.#speeds].map(([name, values]): Trace => ({
      name,
      unit: "1/min",
      values,
    }));
    return { overview: { times: this.#times, speeds }, plots: this.#plots };
  }

  #keep(table: SignalTable): void {
    const change = this.#waiting.shift()?.change;
    if (change === undefined) return;
    const { tag, subject, occurrence, time } = change;
    const recent = this.#recent.get(`${tag}/${subject}`);
    if (recent === undefined) return;
    const from = time - BEFORE;
    const { times, values, limits, along } = recent.since(from);
    const name = this.#along.get(tag)?.(subject);
    const signal = name === undefined ? -1 : table.find(name);
    const state = this.#states.get(tag)?.(subject);
    this.#plots.push({
      tag,
      subject,
      occurrence,
      times,
      values,
      limits,
      unit: recent.unit,
      words: state === undefined ? null : wordsOf(table, state),
      along: name === undefined || signal < 0
        ? null
        : { name, unit: table.facts[signal].unit, values: along },
    });
  }

  #overview(table: SignalTable, now: Micros): void {
    if (this.#looks++ % this.#step !== 0) return;
    for (const subject of table.subjectsOf("engine")) {
      const name = `engine/${subject}/speed`;
      const values = this.#speeds.get(name) ?? new Array<number>(this.#times.length).fill(NaN);
      values.push(valueOf(table, name));
      this.#speeds.set(name, values);
    }
    this.#times.push(now);
    if (this.#times.length < 2 * OVERVIEW) return;
    this.#step *= 2;
    for (const list of [this.#times, ...this.#speeds.values()]) {
      for (let i = 0; i < OVERVIEW; i++) list[i] = list[2 * i];
      list.length = OVERVIEW;
    }
  }

  #recentOf(key: string): Recent {
    const known = this.#recent.get(key);
    if (known !== undefined) return known;
    const recent = new Recent();
    this.#recent.set(key, recent);
    return recent;
  }
}

/** The last minutes of one rule and subject, oldest first when asked. */
class Recent {
  unit: UnitCode = "";
  readonly #times = new Float64Array(KEPT);
  readonly #values = new Float64Array(KEPT);
  readonly #limits = new Float64Array(KEPT);
  readonly #along = new Float64Array(KEPT);
  #next = 0;
  #count = 0;

  take(time: Micros, value: number, limit: number, along: number): void {
    const at = this.#next;
    this.#times[at] = time;
    this.#values[at] = value;
    this.#limits[at] = limit;
    this.#along[at] = along;
    this.#next = (at + 1) % KEPT;
    this.#count = Math.min(this.#count + 1, KEPT);
  }

  since(from: Micros) {
    const first = this.#next - this.#count + KEPT;
    const places = Array.from({ length: this.#count }, (_, i) => (first + i) % KEPT)
      .filter((at) => this.#times[at] >= from);
    return {
      times: places.map((at) => this.#times[at]),
      values: places.map((at) => this.#values[at]),
      limits: places.map((at) => this.#limits[at]),
      along: places.map((at) => this.#along[at]),
    };
  }
}

/** The name of the signal along which a rule's limit runs, by subject. */
function alongOf({ tag, each, test }: Rule): [string, (subject: string) => string][] {
  if (test.kind !== "low" && test.kind !== "high" || test.setpoint.kind !== "curve") return [];
  return namedBy(tag, each, test.setpoint.along);
}

/** The name of the signal that a test without a limit reads, by subject. */
function stateOf({ tag, each, test }: Rule): [string, (subject: string) => string][] {
  if (!STATES.has(test.kind)) return [];
  return namedBy(tag, each, judgedSignal(test));
}

function namedBy(
  tag: string,
  each: string | null,
  { name, of }: SignalReference,
): [string, (subject: string) => string][] {
  if (of !== null) return [];
  const isWhole = isAbsolute(name) || each === null;
  return [[tag, (subject) => isWhole ? name : `${groupOfEach(each)}/${subject}/${name}`]];
}

/** A bit is on or off. */
function wordsOf(table: SignalTable, name: string): ReadonlyMap<number, string> {
  const signal = table.find(name);
  return (signal < 0 ? null : table.facts[signal].words) ?? ON_OFF;
}

function valueOf(table: SignalTable, name: string | undefined): number {
  const signal = name === undefined ? -1 : table.find(name);
  return signal < 0 || table.qualities[signal] !== Quality.good ? NaN : table.values[signal];
}
