import { type Micros, SECOND } from "../ground/time.ts";
import type { Boat } from "./boat.ts";
import { CRANKING_VOLTAGE, type DerivedSignals } from "./derived-signals.ts";
import { Phase } from "./engine-condition.ts";
import { signalName } from "./naming.ts";
import { Quality } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Where an engine whose battery the boat file does not name tells of it itself; the best first. */
const OWN_VOLTAGES = ["key-switch-voltage", "alternator-voltage"];

/** A starter that draws for longer turns the engine. Judgement. */
const EARLY: Micros = SECOND;

/** Cranking takes no longer than this, with the time that a gateway takes to begin anew. Judgement. */
const LONGEST_UNSEEN: Micros = 20 * SECOND;

/** One go of a starter. */
interface Cranking {
  /** Since when; of one that nobody has heard, since when the engine at rest was no longer known. */
  readonly began: Micros;
  /** Whether the engine was heard to be cranked. */
  isHeard: boolean;
  readonly group: string;
  readonly subject: string;
  /** Signals that may tell the volts; the first that told any counts. */
  readonly sources: readonly string[];
  /** By source; Infinity while nothing was received. */
  readonly lowest: number[];
  /** By source: what came since the engine was last known not to turn; Infinity for nothing. */
  readonly early: readonly number[];
}

/**
 * Derives `engine/NAME/cranking-voltage`, the lowest volts while cranking, told at the end of each start. A start in which no volts
 * were received has none, which is another thing than the volts of the start before. Volts that pull
 * the engine's own gateway down are those that matter: while the condition is not known the start
 * goes on, and where an engine at rest is not known for some seconds and runs when it is heard again,
 * that was a start. The starter is heard a moment after it has begun to draw: volts that came after
 * the last speed of an engine at rest count too, beside others.
 *
 * Order of calls: `follow` when an engine's condition changes; `take` after each message while
 * `isBusy`.
 */
export class CrankingVoltages {
  readonly #crankings = new Map<string, Cranking>();
  /** Engines that are known to stand still. */
  readonly #atRest = new Set<string>();

  constructor(
    readonly table: SignalTable,
    readonly derived: DerivedSignals,
    readonly boat: Boat,
  ) {}

  /** Whether any engine is being cranked. */
  get isBusy(): boolean {
    return this.#crankings.size > 0;
  }

  /**
   * @param condition a code of the engine's condition; NaN while that is not known
   * @param since when the engine was heard before
   */
  follow(group: string, subject: string, condition: number, now: Micros, since: Micros): void {
    const name = signalName(group, subject, CRANKING_VOLTAGE);
    const wasAtRest = this.#atRest.has(name);
    if (condition === Phase.still) this.#atRest.add(name);
    else this.#atRest.delete(name);
    const isHeard = condition === Phase.cranking;
    const cranking = this.#crankings.get(name);
    if (cranking === undefined) {
      if (isHeard || wasAtRest && Number.isNaN(condition)) {
        const from = isHeard ? Math.max(since, now - EARLY) : now;
        this.#crankings.set(name, this.#begun(group, subject, isHeard, now, from));
      }
    } else if (isHeard) cranking.isHeard = true;
    else if (!Number.isNaN(condition)) this.#goOn(name, cranking, condition, now);
  }

  /** @param carrier that has just brought its signals */
  take(carrier: number, now: Micros): void {
    const { carriers, qualities, values } = this.table;
    for (const [name, { sources, lowest, isHeard, began }] of this.#crankings) {
      if (!isHeard && now - began > LONGEST_UNSEEN) this.#crankings.delete(name);
      for (let source = 0; source < sources.length; source++) {
        const signal = this.table.find(sources[source]);
        if (signal < 0 || carriers[signal] !== carrier) continue;
        if (qualities[signal] !== Quality.good) continue;
        lowest[source] = Math.min(lowest[source], values[signal]);
      }
    }
  }

  #begun(
    group: string,
    subject: string,
    isHeard: boolean,
    began: Micros,
    from: Micros,
  ): Cranking {
    const sources = this.#sourcesOf(group, subject);
    const lowest = sources.map(() => Infinity);
    const early = sources.map((source) => this.#saidSince(source, from));
    return { group, subject, sources, lowest, early, began, isHeard };
  }

  /** The engine is known, and not to be cranked. */
  #goOn(name: string, cranking: Cranking, condition: number, now: Micros): void {
    const { isHeard, began } = cranking;
    // Presumed only: it may still be heard to run.
    if (!isHeard && condition === Phase.presumedStopped) return;
    this.#crankings.delete(name);
    const isStart = isHeard || condition !== Phase.still && now - began <= LONGEST_UNSEEN;
    if (isStart) this.#tell(cranking, now);
  }

  #saidSince(name: string, since: Micros): number {
    const { qualities, values } = this.table;
    const signal = this.table.find(name);
    const isGood = signal >= 0 && qualities[signal] === Quality.good;
    return isGood && this.table.heardAt(signal) > since ? values[signal] : Infinity;
  }

  #tell({ group, subject, lowest, early }: Cranking, now: Micros): void {
    const source = lowest.findIndex((one) => one < Infinity);
    const volts = source < 0 ? NaN : Math.min(lowest[source], early[source]);
    // What was never received has no signal at all.
    const isKnown = this.table.find(signalName(group, subject, CRANKING_VOLTAGE)) >= 0;
    if (Number.isNaN(volts) && !isKnown) return;
    this.derived.tell(this.derived.make(group, subject, CRANKING_VOLTAGE), volts, now);
  }

  #sourcesOf(group: string, subject: string): readonly string[] {
    const described = this.boat.subjects
      .find((one) => one.group === group && one.name === subject);
    const battery = described?.startsFrom ?? described?.relations.battery;
    return battery === undefined
      ? OWN_VOLTAGES.map((quantity) => signalName(group, subject, quantity))
      : [signalName("battery", battery, "voltage")];
  }
}
