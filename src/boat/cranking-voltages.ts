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

/** One go of a starter. */
interface Cranking {
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
 * goes on. The starter is heard a moment after it has begun to draw: volts that came after the last
 * speed of an engine at rest count too, beside others.
 *
 * Order of calls: `follow` when an engine's condition changes; `take` after each message while
 * `isBusy`.
 */
export class CrankingVoltages {
  readonly #crankings = new Map<string, Cranking>();

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
    const cranking = this.#crankings.get(name);
    if (condition === Phase.cranking) {
      if (cranking !== undefined) return;
      const sources = this.#sourcesOf(group, subject);
      const lowest = sources.map(() => Infinity);
      const from = Math.max(since, now - EARLY);
      const early = sources.map((source) => this.#saidSince(source, from));
      this.#crankings.set(name, { group, subject, sources, lowest, early });
    } else if (cranking !== undefined && !Number.isNaN(condition)) {
      this.#crankings.delete(name);
      this.#tell(cranking, now);
    }
  }

  /** @param carrier that has just brought its signals */
  take(carrier: number): void {
    const { carriers, qualities, values } = this.table;
    for (const { sources, lowest } of this.#crankings.values()) {
      for (let source = 0; source < sources.length; source++) {
        const signal = this.table.find(sources[source]);
        if (signal < 0 || carriers[signal] !== carrier) continue;
        if (qualities[signal] !== Quality.good) continue;
        lowest[source] = Math.min(lowest[source], values[signal]);
      }
    }
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
