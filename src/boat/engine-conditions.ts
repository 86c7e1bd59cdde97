import type { Micros } from "../ground/time.ts";
import type { TimerHeap } from "../ground/timer-heap.ts";
import type { Carriers } from "./carriers.ts";
import {
  CONDITION_WORDS,
  conditionCode,
  Phase,
  phaseAfter,
  presumedStoppedAt,
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
  lastSpeed: number;
  /** Time of the last message with a speed that was not bad. */
  lastGood: Micros;
  /** `NEVER` while it is not bad. */
  badSince: Micros;
}

const NEVER = Infinity;

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

  constructor(
    readonly carriers: Carriers,
    readonly timers: TimerHeap,
    readonly firstTimer: number,
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
        lastSpeed: NaN,
        lastGood: 0,
        badSince: NEVER,
      });
    }
    this.#ofClaim[this.carriers.claim[carrier]] = engine + 1;
  }

  /** After a carrier's message, or after its signals changed quality. */
  follow(carrier: number, now: Micros): void {
    const number = this.#ofClaim[this.carriers.claim[carrier]] - 1;
    if (number < 0) return;
    const engine = this.#engines[number];
    const { table } = this.carriers;
    if (table.qualities[engine.speed] === Quality.bad) this.#lose(number, engine, now);
    else this.#hear(number, engine, now);
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
    engine.lastGood = now;
    engine.lastSpeed = speed;
    engine.phase = phaseAfter(engine.phase, speed);
    table.carrierHeard[engine.carrier] = now;
    if (engine.badSince !== NEVER) {
      engine.badSince = NEVER;
      this.timers.clear(this.firstTimer + number);
    }
    if (conditionCode(engine.phase) === engine.setCode && reason === engine.setReason) return;
    this.#set(engine, table.qualities[engine.speed], reason, now);
  }

  #lose(number: number, engine: Engine, now: Micros): void {
    if (engine.badSince !== NEVER) return;
    engine.badSince = now;
    const { reasons } = this.carriers.table;
    this.#set(engine, Quality.bad, reasons[engine.speed], now);
    // An engine whose speed was never good is not presumed stopped: it is not known.
    if (Number.isNaN(engine.lastSpeed)) return;
    this.timers.set(
      this.firstTimer + number,
      presumedStoppedAt(engine.lastSpeed, engine.lastGood, now),
    );
  }

  #set(engine: Engine, quality: number, reason: number, now: Micros): void {
    const { table } = this.carriers;
    engine.setCode = quality === Quality.bad ? NaN : conditionCode(engine.phase);
    engine.setReason = reason;
    table.set(engine.condition, engine.setCode, quality, reason, now);
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
