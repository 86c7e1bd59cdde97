import type { BoatSignals } from "../boat/boat-signals.ts";
import { Quality, Reason, REASON_WORDS } from "../boat/quality.ts";
import type { SignalFacts, SignalTable } from "../boat/signal-table.ts";
import { type Micros, MINUTE, SECOND } from "../ground/time.ts";
import { Dropouts } from "./dropouts.ts";

/** Lowest and highest value over some time; none: lowest is above highest. */
export interface Range {
  lowest: number;
  highest: number;
}

/** What was seen of one signal while we listened; values in its unit, times steady. */
export interface SignalObservation {
  readonly facts: SignalFacts;
  /** Messages that carried it. */
  readonly messages: number;
  /** Of these, by `Reason`. */
  readonly byReason: readonly number[];
  readonly lastReason: number;
  readonly firstHeard: Micros;
  readonly lastHeard: Micros;
  /** The last one that was a value; NaN where none ever was. */
  readonly value: number;
  readonly range: Readonly<Range>;
  /** How often a value differed from the one before. */
  readonly changes: number;
  /** Its values while its engine was running, oil pressure built up. */
  readonly whileRunning: Readonly<Range>;
  /**
   * Since when it has not moved one count, and the speeds of its running engine since then. Both
   * begin anew when the engine starts or stops, unless it stood still too long already.
   */
  readonly unmovedSince: Micros;
  readonly speedsSince: Readonly<Range>;
  /** While something else was heard. */
  readonly dropouts: { readonly count: number; readonly longest: Micros };
}

interface Observed extends SignalObservation {
  messages: number;
  readonly byReason: number[];
  lastReason: number;
  lastHeard: Micros;
  value: number;
  readonly range: Range;
  changes: number;
  readonly whileRunning: Range;
  unmovedSince: Micros;
  readonly speedsSince: Range;
  readonly engine: Engine | undefined;
  readonly dropouts: Dropouts;
  /** `#silence` when it was last heard. */
  silenceBefore: Micros;
}

/** An engine, or a generator's. */
interface Engine {
  speed: number;
  turningSince: Micros;
  readonly signals: Observed[];
}

/** Common practice: above 500 rpm for 10 s an engine runs. */
const TURNING = 500;
const RUN_UP: Micros = 10 * SECOND;

/** What stands still for so long while the speed changes by a fifth stands still too long. */
const STILL_FOR: Micros = MINUTE;
const SPEED_CHANGE = 1.2;

/** Whether a value did not move while the speed of its running engine changed. */
export function standsStill(observation: SignalObservation): boolean {
  const { lastHeard, speedsSince, unmovedSince } = observation;
  return lastHeard - unmovedSince >= STILL_FOR && speedsSince.lowest !== Infinity &&
    speedsSince.highest >= speedsSince.lowest * SPEED_CHANGE;
}

const ENGINE_GROUPS: ReadonlySet<string> = new Set(["engine", "generator"]);

/** Looks at every message's signals and remembers what a survey tells of them. Changes nothing. */
export class SignalObserver {
  /** By signal. */
  readonly #observed = new Map<number, Observed>();
  readonly #engines = new Map<string, Engine>();
  /** How long, in all, no signal at all came for more than a second. */
  #silence: Micros = 0;
  #lastMessage: Micros = Infinity;

  /** After each message: the signals that it carried. */
  look(signals: BoatSignals, now: Micros): void {
    const { table } = signals;
    const quiet = now - this.#lastMessage;
    if (quiet > SECOND) this.#silence += quiet;
    this.#lastMessage = now;
    for (const signal of signals.carried()) {
      const observed = this.#observed.get(signal) ?? this.#meet(table, signal, now);
      const interval = now - observed.lastHeard - (this.#silence - observed.silenceBefore);
      if (observed.messages > 0) observed.dropouts.take(interval, signals.oldAgeOf(signal));
      observed.silenceBefore = this.#silence;
      const reason = table.reasons[signal];
      observed.messages++;
      observed.byReason[reason]++;
      observed.lastReason = reason;
      observed.lastHeard = now;
      if (table.qualities[signal] !== Quality.bad) take(observed, table.values[signal], now);
    }
  }

  /** In the order in which they were first heard. */
  get observations(): ReadonlyMap<number, SignalObservation> {
    return this.#observed;
  }

  #meet(table: SignalTable, signal: number, now: Micros): Observed {
    const facts = table.facts[signal];
    const observed: Observed = {
      facts,
      messages: 0,
      byReason: REASON_WORDS.map(() => 0),
      lastReason: Reason.none,
      firstHeard: now,
      lastHeard: now,
      value: NaN,
      range: noRange(),
      changes: 0,
      whileRunning: noRange(),
      unmovedSince: now,
      speedsSince: noRange(),
      engine: this.#engineOf(facts),
      dropouts: new Dropouts(),
      silenceBefore: this.#silence,
    };
    observed.engine?.signals.push(observed);
    this.#observed.set(signal, observed);
    return observed;
  }

  #engineOf({ group, subject }: SignalFacts): Engine | undefined {
    if (!ENGINE_GROUPS.has(group)) return undefined;
    const name = `${group}/${subject}`;
    const engine = this.#engines.get(name) ?? { speed: NaN, turningSince: Infinity, signals: [] };
    this.#engines.set(name, engine);
    return engine;
  }
}

function take(observed: Observed, value: number, now: Micros): void {
  const { engine, facts } = observed;
  if (value !== observed.value) {
    if (!Number.isNaN(observed.value)) observed.changes++;
    observed.value = value;
    watchAnew(observed, now);
  }
  widen(observed.range, value);
  if (engine === undefined) return;
  if (facts.quantity === "speed") turn(engine, value, now);
  if (now - engine.turningSince >= RUN_UP) widen(observed.whileRunning, value);
}

function watchAnew(observed: Observed, now: Micros): void {
  observed.unmovedSince = now;
  Object.assign(observed.speedsSince, noRange());
}

function turn(engine: Engine, speed: number, now: Micros): void {
  engine.speed = speed;
  const isTurning = speed > TURNING;
  if (isTurning !== Number.isFinite(engine.turningSince)) {
    // What is zero because the engine was stopped is not stuck, though she ran down meanwhile.
    for (const signal of engine.signals) if (!standsStill(signal)) watchAnew(signal, now);
  }
  if (!isTurning) {
    engine.turningSince = Infinity;
    return;
  }
  engine.turningSince = Math.min(engine.turningSince, now);
  for (const { speedsSince } of engine.signals) widen(speedsSince, speed);
}

function widen(range: Range, value: number): void {
  range.lowest = Math.min(range.lowest, value);
  range.highest = Math.max(range.highest, value);
}

function noRange(): Range {
  return { lowest: Infinity, highest: -Infinity };
}
