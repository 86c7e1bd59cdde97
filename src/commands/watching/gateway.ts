import type { AlarmChange, AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import { type FrameSource, SourceEndedEarly } from "../../bus/frame-source.ts";
import type { Clock } from "../../ground/clock.ts";
import type { Micros } from "../../ground/time.ts";
import { tellLate } from "../../store/late-events.ts";
import { type AlarmEvent, type Store, StoreError } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import { LiveFeed } from "../sources/live-feed.ts";
import { memoryDocument } from "./alarm-memory.ts";
import { boatStateDocument } from "./boat-state-document.ts";
import { wait } from "./wait.ts";

/** Where a turn's results go. Everything here is optional to a run, and none waits for another. */
export interface Outlet {
  /** On every turn, before the table's list of changes is emptied. */
  turn?(now: Micros): void;
  /** Changes of alarms were saved: all alarms as they stood then. Also when there are new alarms. */
  alarmsSaved?(alarms: readonly AlarmStatus[]): void;
  /**
   * Events that the disk has not taken in time, and all alarms as they stand: they go out all the
   * same.
   */
  eventsUnsaved?(events: readonly AlarmEvent[], alarms: readonly AlarmStatus[]): void;
  /** Says what is still owed, then lets go; `patience` ends the wait. */
  stop(patience: AbortSignal): Promise<void>;
}

export interface GatewayParts {
  readonly watch: Watch;
  readonly store: Store;
  readonly clock: Clock;
  readonly outlets: readonly Outlet[];
  /** Whoever wants to stop does not wait for a disk that hangs. */
  readonly interrupted: AbortSignal;
  /** Told of changes as they come, in order. */
  readonly onChanges: (changes: readonly AlarmChange[]) => void;
  /** A fault of one outlet, or a store that refuses: the others go on. */
  readonly onTrouble: (error: Error) => void;
}

const TURN_EVERY_MS = 100;
/** How long the disk and the outlets may take to say their last words. */
const PATIENCE_MS = 5_000;

/**
 * Drives the pipeline by the real clock: frames into the watch, and once a turn the results to the
 * store and then to the outlets. A stop goes in the order of the flow: the sources end, a last turn
 * is taken, then the outlets close, then the store.
 *
 * Turns may overlap while the disk is slow: each takes its changes at once and hands them to the
 * store, which saves them in that order, and outlets are given the alarms as they stood with them.
 */
export class Gateway {
  readonly #live: LiveFeed;
  #alarmsKnown = 0;
  /** Rejects when the watch itself fails, in a timer or in a turn that nobody waits for. */
  readonly #failed = Promise.withResolvers<never>();

  readonly #interrupted: Promise<void>;
  /** The turn that a live batch has asked for. */
  #soon: ReturnType<typeof setImmediate> | undefined;

  constructor(readonly parts: GatewayParts) {
    this.#live = new LiveFeed(parts.clock, parts.watch);
    this.#interrupted = aborted(parts.interrupted);
    this.#failed.promise.catch(() => {});
  }

  /**
   * Follows all sources to their end, live ones side by side, then recordings one after another.
   * @returns a sentence for each source that ended early; the others were followed all the same
   */
  async follow(sources: readonly FrameSource[]): Promise<string[]> {
    this.#live.begin(sources);
    const ticking = setInterval(() => this.#tick(), TURN_EVERY_MS);
    try {
      return await Promise.race([this.#followAll(sources), this.#failed.promise]);
    } finally {
      clearInterval(ticking);
      clearImmediate(this.#soon);
      for (const source of sources) source.stop();
    }
  }

  /**
   * A person's answer; the outcome is told when it is saved.
   * @param isAfar given neither at the boat's own page nor on her own network
   */
  async answer(answer: Answer, isAfar: boolean): Promise<AnswerOutcome> {
    const outcome = this.parts.watch.answer(answer, isAfar);
    if (outcome.accepted) await this.#turn();
    return outcome;
  }

  /**
   * A person says how the boat is; resolves when it is saved, and with it what rules made of it: where
   * she lay when she was said to be anchored is worth more than what is kept once a minute.
   */
  async setCondition(saying: BoatSaying): Promise<void> {
    const { watch, store } = this.parts;
    watch.setCondition(saying);
    const told = this.#turn();
    const documents = [
      boatStateDocument(watch.boatState.record),
      ...watch.alarms.memory(watch.timeline.now).map(memoryDocument),
    ];
    await Promise.all([store.commit({ documents }).saved, told]);
  }

  /** Other rules from now on; resolves when what follows from it is saved, and outlets know of it. */
  async setRules(rules: readonly Rule[]): Promise<void> {
    this.parts.watch.setRules(rules);
    this.#alarmsKnown = -1;
    await this.#turn();
  }

  /** @throws {StoreError} when what happened last could not be kept */
  async close(): Promise<void> {
    const { watch, store, outlets, onTrouble } = this.parts;
    const patience = AbortSignal.timeout(PATIENCE_MS);
    // What an outlet's last turn has brought.
    this.#turn().catch(() => {});
    const documents = watch.alarms.memory(watch.timeline.now).map(memoryDocument);
    const { saved } = store.commit({ documents });
    await Promise.race([saved.catch(() => {}), aborted(patience)]);
    await Promise.all(outlets.map((outlet) => outlet.stop(patience).catch(onTrouble)));
    await store.close();
    await saved;
  }

  async #followAll(sources: readonly FrameSource[]): Promise<string[]> {
    const early: string[] = [];
    const followOne = async (source: FrameSource): Promise<void> => {
      try {
        await this.#followOne(source);
      } catch (error) {
        if (!(error instanceof SourceEndedEarly)) throw error;
        early.push(error.message);
      }
    };
    await Promise.all(sources.filter(({ live }) => live).map(followOne));
    this.#live.settle();
    for (const source of sources) if (!source.live) await followOne(source);
    // `close` waits for the disk.
    this.#turn().catch(this.#failed.reject);
    return early;
  }

  async #followOne(source: FrameSource): Promise<void> {
    const { watch } = this.parts;
    for await (const batch of source.batches()) {
      if (batch.count === 0) continue;
      if (source.live) {
        this.#live.take(source, batch);
        this.#turnSoon();
      } else {
        watch.feed(batch);
        // A recording waits for the disk: it must not run ahead of what is kept.
        await Promise.race([this.#turn(), this.#interrupted]);
      }
    }
  }

  /** What a live bus has said is told at once; batches that follow closely share a turn. */
  #turnSoon(): void {
    this.#soon ??= setImmediate(() => {
      this.#soon = undefined;
      this.#turn().catch(this.#failed.reject);
    });
  }

  /** While a live bus is silent its time goes on, from its last stamp by our steady clock. */
  #tick(): void {
    try {
      this.#live.pass();
      this.#turn().catch(this.#failed.reject);
    } catch (error) {
      this.#failed.reject(error);
    }
  }

  /** Resolves when what had to be saved is saved; live sources do not wait for it. */
  async #turn(): Promise<void> {
    const { watch, store, onChanges, onTrouble } = this.parts;
    const now = watch.timeline.now;
    const { count, hasUnkept } = watch.alarms;
    const changes = watch.takeChanges();
    const isNews = changes.length > 0 || hasUnkept || count !== this.#alarmsKnown;
    if (!isNews) return this.#pass(now);
    this.#alarmsKnown = count;
    const alarms = watch.alarms.statuses();
    const documents = watch.alarms.dirtyRecords(now).map(memoryDocument);
    // Handed to the disk before an outlet keeps anything: no memory of a change without its event.
    const commit = store.commit({ changes, documents });
    this.#pass(now);
    if (changes.length > 0) onChanges(changes);
    void tellLate(commit, wait, (events) => {
      const now = watch.alarms.statuses();
      this.#tell((outlet) => outlet.eventsUnsaved?.(events, now));
    });
    try {
      await commit.saved;
      this.#tell((outlet) => outlet.alarmsSaved?.(alarms));
    } catch (error) {
      if (!(error instanceof StoreError)) throw error;
      onTrouble(error);
    }
  }

  /** The outlets have their turn with what the signals said. */
  #pass(now: Micros): void {
    this.#tell((outlet) => outlet.turn?.(now));
    this.parts.watch.signals.table.clearTouched();
  }

  /** A fault in one outlet is no reason to keep anything from the others. */
  #tell(tell: (outlet: Outlet) => void): void {
    for (const outlet of this.parts.outlets) {
      try {
        tell(outlet);
      } catch (error) {
        this.parts.onTrouble(error instanceof Error ? error : new Error(String(error)));
      }
    }
  }
}

function aborted(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve();
    signal.addEventListener("abort", () => resolve(), { once: true });
  });
}
