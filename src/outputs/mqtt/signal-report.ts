import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { type Outgoing, retained } from "./outgoing.ts";
import { ReportByException, type ReportSettings } from "./report-by-exception.ts";
import type { RetainedTopics } from "./retained-topics.ts";
import { notHeardPayload, signalPayload } from "./signal-payload.ts";

/** One turn of the program, as an outlet sees it. */
export interface OutletTurn {
  /** Steady time. */
  readonly now: Micros;
  /** Wall time of a steady time. */
  readonly wallOf: (steady: Micros) => Micros;
}

/** The signals as retained messages: what to say on each turn, after a reconnect, and at the end. */
export class SignalReport {
  readonly #byException: ReportByException;
  /** The broker may have forgotten everything. */
  #anew = true;
  /** Changes were missed, so every signal has to be compared. */
  #behind = true;

  constructor(
    readonly table: SignalTable,
    settings: ReportSettings,
    readonly topics: RetainedTopics,
  ) {
    this.#byException = new ReportByException(table, settings);
  }

  beginAnew(): void {
    this.#anew = true;
    this.#behind = true;
    this.#byException.forget();
  }

  /** This turn's changes cannot be said; later ones make up for them. */
  skipTurn(): void {
    this.#behind = true;
  }

  *messages({ now, wallOf }: OutletTurn): Iterable<Outgoing> {
    const { table } = this;
    if (this.#anew) yield* this.#notHeardYet(wallOf(now));
    this.#anew = false;
    if (this.#behind) this.#byException.judgeAll(now);
    else this.#byException.judge(table.touched, table.touchedCount, now);
    this.#behind = false;
    for (let i = 0; i < this.#byException.dueCount; i++) {
      const signal = this.#byException.due[i];
      const { name, unit } = table.facts[signal];
      this.topics.add(name, { kind: "signal", unit });
      yield retained(name, signalPayload(table, signal, wallOf), 0);
    }
  }

  /** At a clean stop nobody brings any signal. */
  *lastMessages(wall: Micros): Iterable<Outgoing> {
    for (const { name, unit } of this.table.facts) {
      yield retained(name, notHeardPayload(unit, wall), 0);
    }
  }

  /** What an earlier run said and nobody has brought since must not look alive. */
  *#notHeardYet(wall: Micros): Iterable<Outgoing> {
    for (const [topic, { unit }] of this.topics.ofKind("signal")) {
      if (this.table.find(topic) < 0) yield retained(topic, notHeardPayload(unit, wall), 0);
    }
  }
}
