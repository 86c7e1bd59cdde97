import type { Micros } from "../ground/time.ts";
import type { TimerHeap } from "../ground/timer-heap.ts";
import { type Carriers, MOST_CARRIERS } from "./carriers.ts";
import type { CrankingVoltages } from "./cranking-voltages.ts";
import {
  CONDITION_WORDS,
  conditionCode,
  Phase,
  phaseAfter,
  presumedStoppedAt,
  speedsOf,
} from "./engine-condition.ts";
import { signalName } from "./naming.ts";
import { Quality, Reason } from "./quality.ts";

/** Groups whose subjects have a condition: a generator's engine is an engine. */
const ENGINE_GROUPS: ReadonlySet<string> = new Set(["engine", "generator"]);

interface Engine {
  readonly speed: number;
  readonly condition: number;
  /** That of the condition. */
  readonly carrier: number;
  phase: Phase;
  /** What the condition was last made of. */
  setCode: number;
  setReason: number;
  /** `NEVER` while it is not bad. */
  badSince: Micros;
}

const NEVER = Infinity;

/** What the short way wants of an engine, side by side: `EngineConditions.#steady`. */
const enum Steady {
  /** Its speed's signal, and the reason for that signal's quality. */
  speed = 0,
  reason = 1,
  /** Carrier of its condition. */
  carrier = 2,
  stride = 4,
}

/** The same in `EngineConditions.#speeds`. */
const enum Speeds {
  /** Speeds that change nothing; NaN while the speed is bad. */
  from = 0,
  below = 1,
  /** The last one that was not bad; NaN before the first. */
  last = 2,
  stride = 4,
}

/**
 * Derives `engine/NAME/condition` from `engine/NAME/speed`. Two ways of turning a key off look the
 * same here: a gateway that dies (its speed grows old) and one that goes on with "not available".
 * While the speed is bad the condition is as bad, until the engine is presumed stopped. The timer of
 * engine e has the number `firstTimer` + e.
 */
export class EngineConditions {
  readonly #engines: Engine[] = [];
  readonly #bySpeed = new Map<number, number>();
  /** By claim of a carrier: its engine plus 1; 0 none. */
  readonly #ofClaim: Uint16Array;
  /** By engine. */
  readonly #steady = new Int32Array(MOST_CARRIERS * Steady.stride);
  readonly #speeds = new Float64Array(MOST_CARRIERS * Speeds.stride).fill(NaN);

  constructor(
    readonly carriers: Carriers,
    readonly timers: TimerHeap,
    readonly firstTimer: number,
    readonly crankings: CrankingVoltages,
  ) {
    this.#ofClaim = new Uint16Array(carriers.claim.length);
  }

  /** Told of every signal that a carrier brings for the first time. */
  notice(carrier: number, signal: number): void {
    const { group, subject, quantity } = this.carriers.table.facts[signal];
    if (quantity !== "speed" || !ENGINE_GROUPS.has(group)) return;
    let engine = this.#bySpeed.get(signal);
    if (engine === undefined) {
      const condition = this.#makeCondition(carrier, group, subject);
      if (condition === undefined) return;
      engine = this.#engines.length;
      this.#bySpeed.set(signal, engine);
      this.#engines.push({
        speed: signal,
        condition,
        carrier: this.carriers.table.carriers[condition],
        phase: Phase.presumedStopped,
        setCode: NaN,
        setReason: Reason.notHeard,
        badSince: NEVER,
      });
    }
    this.#ofClaim[this.carriers.claim[carrier]] = engine + 1;
  }

  /** After a carrier's message, or after its signals changed quality. */
  follow(carrier: number, now: Micros): void {
    const number = this.#ofClaim[this.carriers.claim[carrier]] - 1;
    if (number < 0 || this.#isSteady(number, now)) return;
    const engine = this.#engines[number];
    const { table } = this.carriers;
    if (table.qualities[engine.speed] === Quality.bad) this.#lose(number, engine, now);
    else this.#hear(number, engine, now);
  }

  /** The short way for most messages: the speed is as good as before, and keeps the phase. */
  #isSteady(number: number, now: Micros): boolean {
    const { values, reasons, carrierHeard } = this.carriers.table;
    const steady = this.#steady;
    const speeds = this.#speeds;
    const own = number * Steady.stride;
    const range = number * Speeds.stride;
    const signal = steady[own + Steady.speed];
    const speed = values[signal];
    if (!(speed >= speeds[range + Speeds.from] && speed < speeds[range + Speeds.below])) {
      return false;
    }
    if (reasons[signal] !== steady[own + Steady.reason]) return false;
    speeds[range + Speeds.last] = speed;
    carrierHeard[steady[own + Steady.carrier]] = now;
    return true;
  }

  /** The timer of an engine fell due. */
  presumeStopped(number: number, due: Micros): void {
    const engine = this.#engines[number];
    engine.phase = Phase.presumedStopped;
    this.#set(engine, Quality.good, Reason.none, due);
  }

  #hear(number: number, engine: Engine, now: Micros): void {
    const { table } = this.carriers;
    const speed = table.values[engine.speed];
    const reason = table.reasons[engine.speed];
    engine.phase = phaseAfter(engine.phase, speed);
    const keeping = speedsOf(engine.phase);
    this.#steady.set([engine.speed, reason, engine.carrier], number * Steady.stride);
    this.#speeds.set([...keeping, speed], number * Speeds.stride);
    const since = table.carrierHeard[engine.carrier];
    table.carrierHeard[engine.carrier] = now;
    if (engine.badSince !== NEVER) {
      engine.badSince = NEVER;
      this.timers.clear(this.firstTimer + number);
    }
    if (conditionCode(engine.phase) === engine.setCode && reason === engine.setReason) return;
    this.#set(engine, table.qualities[engine.speed], reason, now, since);
  }

  #lose(number: number, engine: Engine, now: Micros): void {
    if (engine.badSince !== NEVER) return;
    engine.badSince = now;
    const { reasons, carrierHeard } = this.carriers.table;
    this.#set(engine, Quality.bad, reasons[engine.speed], now);
    const range = number * Speeds.stride;
    this.#speeds[range + Speeds.from] = NaN;
    const lastSpeed = this.#speeds[range + Speeds.last];
    // An engine whose speed was never good is not presumed stopped: it is not known.
    if (Number.isNaN(lastSpeed)) return;
    const lastGood = carrierHeard[engine.carrier];
    this.timers.set(this.firstTimer + number, presumedStoppedAt(lastSpeed, lastGood, now));
  }

  /** @param since when its speed was heard before */
  #set(engine: Engine, quality: number, reason: number, now: Micros, since = now): void {
    const { table } = this.carriers;
    engine.setCode = quality === Quality.bad ? NaN : conditionCode(engine.phase);
    engine.setReason = reason;
    table.set(engine.condition, engine.setCode, quality, reason, now);
    const { group, subject } = table.facts[engine.condition];
    const known = quality === Quality.good ? engine.setCode : NaN;
    this.crankings.follow(group, subject, known, now, since);
  }

  /** Undefined when there are too many carriers. */
  #makeCondition(speedCarrier: number, group: string, subject: string): number | undefined {
    const { carriers } = this;
    if (carriers.full) return undefined;
    const condition = carriers.table.intern({
      name: signalName(group, subject, "condition"),
      group,
      subject,
      quantity: "condition",
      unit: "",
      decimals: 0,
      words: CONDITION_WORDS,
      span: null,
      derived: true,
    });
    // As old as its speed may grow; it has no timer of its own.
    carriers.table.carriers[condition] = carriers.add(-1, 0, carriers.oldAge[speedCarrier]);
    return condition;
  }
}
