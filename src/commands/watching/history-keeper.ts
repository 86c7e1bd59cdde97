import { type Clock, isCredible } from "../../ground/clock.ts";
import { DAY, type Micros, SECOND } from "../../ground/time.ts";
import type { History } from "../../store/history.ts";
import type { HistoryPlan } from "../../store/history-plan.ts";
import { type FinishedMinutes, HistoryRecorder } from "../../store/history-recorder.ts";
import type { Watch } from "../../watch.ts";

export interface HistoryKeeperParts {
  readonly watch: Watch;
  readonly history: History;
  readonly plan: HistoryPlan;
  readonly clock: Clock;
  readonly say: (sentence: string) => void;
}

/** Minutes that wait for a disk that fails; the oldest are given up for the newest. */
const LONGEST_QUEUE = 3_000;
const TRY_AGAIN: Micros = 30 * SECOND;

/**
 * Brings the finished minutes to the store, one after another and in order. The bus never waits for
 * it, and a disk that fails is tried again.
 *
 * Order of calls: `follow` after each message, `turn` once a turn, `finish` when the sources ended.
 */
export class HistoryKeeper {
  readonly #recorder: HistoryRecorder;
  #waiting: FinishedMinutes[] = [];
  #isRestamped = false;
  #running: Promise<void> | undefined;
  #pausedUntil: Micros = -Infinity;
  #forgetDue: Micros = -Infinity;
  #givenUp = 0;

  constructor(readonly parts: HistoryKeeperParts) {
    const { watch, plan } = parts;
    this.#recorder = new HistoryRecorder({
      table: watch.signals.table,
      plan,
      isNamed: (signal) => watch.alarms.isNamed(signal),
      wallOf: (steady) => watch.timeline.wallOf(steady),
    });
  }

  follow(now: Micros): void {
    this.#recorder.take(now);
  }

  turn(now: Micros): void {
    if (now === 0) return;
    this.#recorder.reach(now);
    this.#waiting.push(...this.#recorder.drain());
    const tooMany = this.#waiting.length - LONGEST_QUEUE;
    if (tooMany > 0) {
      this.#waiting.splice(0, tooMany);
      this.#givenUp += tooMany;
    }
    if (this.parts.clock.steady() >= this.#pausedUntil) this.#running ??= this.#run();
  }

  /** Keeps the minute that is open, as far as it has come. */
  async finish(): Promise<void> {
    this.#recorder.finish();
    this.#pausedUntil = -Infinity;
    this.turn(this.parts.watch.timeline.now);
    await this.#running;
    // What was under way may have been past its last look at what waits.
    if (this.#waiting.length > 0) await this.#run();
  }

  async #run(): Promise<void> {
    try {
      for (let next = this.#waiting[0]; next !== undefined; next = this.#waiting[0]) {
        if (!next.provisional) await this.#restamp();
        await this.parts.history.add(next.records, next.provisional);
        this.#waiting.shift();
      }
      await this.#restamp();
      await this.#forget();
      this.#tellGivenUp();
    } catch (error) {
      const said = error instanceof Error ? error.message : String(error);
      this.#pausedUntil = this.parts.clock.steady() + TRY_AGAIN;
      this.parts.say(`The history cannot be kept now (${said}); it is tried again.`);
    } finally {
      this.#running = undefined;
    }
  }

  async #restamp(): Promise<void> {
    const { shift } = this.#recorder;
    if (shift === undefined || this.#isRestamped) return;
    await this.parts.history.restamp(shift);
    this.#isRestamped = true;
  }

  async #forget(): Promise<void> {
    const { clock, history, plan } = this.parts;
    if (clock.steady() < this.#forgetDue || !isCredible(clock.wall())) return;
    this.#forgetDue = clock.steady() + DAY;
    await history.forget(clock.wall() - plan.kept, plan.mostBytes);
  }

  #tellGivenUp(): void {
    if (this.#givenUp === 0) return;
    this.parts.say(`${this.#givenUp} minutes of history could not be kept and are lost.`);
    this.#givenUp = 0;
  }
}
