import type { Alarms } from "../alarms/alarms.ts";
import type { AlarmChange } from "../alarms/change.ts";
import { isStanding } from "../alarms/move-words.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { FrameBatch } from "../bus/frame-batch.ts";
import type { Timeline } from "../ground/timeline.ts";
import type { OwnersUnits } from "../units/units.ts";
import type { Watch } from "../watch.ts";
import { type Doing, DoingLook, doingWords } from "./doing.ts";
import { Figures } from "./figures.ts";
import { isHidden } from "./hidden-rules.ts";
import type { Follower, Run } from "./run.ts";
import type { RunRecord } from "./run-record.ts";
import { RunTime } from "./run-time.ts";
import type { Traces } from "./traces.ts";
import { Seconds } from "./seconds-of.ts";

/** What a trial looks at; a `Watch` is one. */
export interface Tried {
  readonly alarms: Alarms;
  readonly signals: { readonly table: SignalTable };
  readonly timeline: Timeline;
  takeChanges(): AlarmChange[];
}

/** Collects what one run brings: every change as it comes, and a look at all rules once a second. */
export class Trial {
  readonly changes: AlarmChange[] = [];
  readonly told: AlarmChange[] = [];
  readonly doing: string[] = [];
  readonly hidden: AlarmChange[] = [];
  readonly #figures = new Figures();
  readonly #look: DoingLook;
  readonly #time: RunTime;
  #doing: Doing = { engines: [], way: NaN };

  /**
   * @param traces given: what a report draws is remembered too
   * @param stood what the run before has left standing
   */
  constructor(
    readonly tried: Tried,
    readonly owners: OwnersUnits,
    readonly traces: Traces | null,
    readonly stood: readonly AlarmChange[] = [],
  ) {
    this.#look = new DoingLook(tried.signals.table);
    this.#time = new RunTime(tried.timeline);
  }

  /** After what happened up to now, within one second. */
  collect(): void {
    const taken = this.tried.takeChanges();
    for (const [i, change] of this.#time.of(taken).entries()) {
      if (isHidden(change)) {
        this.hidden.push(change);
      } else {
        this.changes.push(change);
        this.told.push(taken[i]);
        this.doing.push(doingWords(this.#doing, this.owners));
        if (change.from === "normal" && isStanding(change.to)) this.#figures.noticeRaised(change);
        this.traces?.notice(change);
      }
    }
  }

  /** Once a second. */
  look(): void {
    const { alarms, signals, timeline } = this.tried;
    this.#figures.look(alarms, timeline.now);
    this.traces?.look(alarms, signals.table, timeline.now);
    this.#doing = this.#look.now();
  }

  record(run: Pick<RunRecord, "parts" | "begins" | "ends" | "endedEarly">): RunRecord {
    this.look();
    return {
      parts: run.parts,
      begins: run.begins,
      ends: run.ends,
      endedEarly: run.endedEarly,
      changes: this.changes,
      stood: this.stood,
      told: this.told,
      clockSettings: this.#time.settings,
      doing: this.doing,
      hidden: this.hidden,
      rules: this.#figures.result(this.tried.alarms),
      traces: this.traces?.result(this.tried.signals.table) ?? null,
    };
  }
}

/** A trial of frames. */
export class FrameTrial implements Follower {
  readonly #trial: Trial;
  readonly #seconds: Seconds;

  constructor(
    readonly watch: Watch,
    owners: OwnersUnits,
    traces: Traces | null = null,
    stood: readonly AlarmChange[] = [],
  ) {
    const trial = new Trial(watch, owners, traces, stood);
    this.#trial = trial;
    this.#seconds = new Seconds(() => trial.look());
  }

  get timeline(): Timeline {
    return this.watch.timeline;
  }

  feed(batch: FrameBatch): void {
    this.#seconds.cut(batch, (piece) => {
      this.watch.feed(piece);
      this.#trial.collect();
    });
  }

  record(run: Run<FrameTrial>): RunRecord {
    return this.#trial.record(run);
  }
}
