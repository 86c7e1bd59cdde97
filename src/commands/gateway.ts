import type { Acknowledge, AlarmChange, AnswerOutcome } from "../alarms/change.ts";
import type { FrameSource } from "../bus/frame-source.ts";
import type { Clock } from "../ground/clock.ts";
import { type Micros, MILLISECOND } from "../ground/time.ts";
import type { Store } from "../store/store.ts";
import type { Watch } from "../watch.ts";

/** Where a turn's results go. Everything here is optional to a run, and none waits for another. */
export interface Outlet {
  /** On every turn, before the table's list of changes is emptied. */
  turn(now: Micros): void;
  /** After changes of alarms were saved. */
  alarmsSaved(): void;
  /** Says what is still owed, then lets go; `patience` ends the wait. */
  stop(patience: AbortSignal): Promise<void>;
}

export interface GatewayParts {
  readonly watch: Watch;
  readonly store: Store;
  readonly clock: Clock;
  readonly outlets: readonly Outlet[];
  /** Told of changes as they come, in order. */
  readonly onChanges?: (changes: readonly AlarmChange[]) => void;
}

/** A timer must not overtake a frame on its way through a pipe or the network (design, two clocks). */
const LATENESS: Micros = 500 * MILLISECOND;
const TURN_EVERY_MS = 100;
/** How long outlets may take to say their last words. */
const PATIENCE_MS = 5_000;

/**
 * Drives the pipeline by the real clock: frames into the watch, and once a turn the results to the
 * store and then to the outlets. A stop goes in the order of the flow: the sources end, a last turn
 * is taken, then the outlets close, then the store.
 */
export class Gateway {
  /** The last stamp of a live source, and when it came. */
  #heard: { readonly stamp: Micros; readonly at: Micros } | undefined;

  constructor(readonly parts: GatewayParts) {}

  /** Follows all sources to their end, live ones side by side, recordings one after another. */
  async follow(sources: readonly FrameSource[]): Promise<void> {
    const ticking = setInterval(() => this.#tick(), TURN_EVERY_MS);
    try {
      await Promise.all(sources.filter((source) => source.live).map((one) => this.#followOne(one)));
      for (const source of sources) if (!source.live) await this.#followOne(source);
    } finally {
      clearInterval(ticking);
      await this.#turn();
    }
  }

  acknowledge(answer: Acknowledge): AnswerOutcome {
    const outcome = this.parts.watch.acknowledge(answer);
    if (outcome.accepted) void this.#turn();
    return outcome;
  }

  async close(): Promise<void> {
    const { watch, store, outlets } = this.parts;
    const now = watch.timeline.now;
    await store.commit({ documents: watch.alarms.memory(now).map(memoryDocument) }).saved;
    const patience = AbortSignal.timeout(PATIENCE_MS);
    await Promise.all(outlets.map((outlet) => outlet.stop(patience)));
    await store.close();
  }

  async #followOne(source: FrameSource): Promise<void> {
    const { watch, clock } = this.parts;
    for await (const batch of source.batches()) {
      watch.feed(batch);
      if (batch.count === 0) continue;
      if (source.live) {
        this.#heard = { stamp: batch.times[batch.count - 1], at: clock.steady() };
      } else {
        // A recording waits for the disk: it must not run ahead of what is kept.
        await this.#turn();
      }
    }
  }

  /** While a live bus is silent its time goes on, from its last stamp by our steady clock. */
  #tick(): void {
    if (this.#heard !== undefined) {
      const { stamp, at } = this.#heard;
      const reached = stamp + this.parts.clock.steady() - at - LATENESS;
      if (reached > this.parts.watch.timeline.now) this.parts.watch.advance(reached);
    }
    void this.#turn();
  }

  /** Resolves when what had to be saved is saved; live sources do not wait for it. */
  async #turn(): Promise<void> {
    const { watch, store, outlets, onChanges } = this.parts;
    const now = watch.timeline.now;
    const changes = watch.takeChanges();
    for (const outlet of outlets) outlet.turn(now);
    watch.signals.table.clearTouched();
    if (changes.length === 0) return;
    onChanges?.(changes);
    const documents = watch.alarms.dirtyRecords(now).map(memoryDocument);
    await store.commit({ changes, documents }).saved;
    for (const outlet of outlets) outlet.alarmsSaved();
  }
}

function memoryDocument(record: { readonly tag: string; readonly subject: string }) {
  return {
    kind: "alarm-memory",
    key: `${record.tag}/${record.subject}`,
    text: JSON.stringify(record),
  } as const;
}
