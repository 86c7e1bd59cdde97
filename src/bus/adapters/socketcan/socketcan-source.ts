import { MILLISECOND } from "../../../ground/time.ts";
import type { BusNames } from "../../bus-names.ts";
import { FrameBatch } from "../../frame-batch.ts";
import type { FrameSource } from "../../frame-source.ts";
import type { LiveParts } from "../../live-parts.ts";
import { USUAL_BATCH } from "../../parsed-source.ts";
import { SourceTally } from "../../source-tally.ts";
import { Errno, sayErrno } from "../linux/errno.ts";
import { SessionClock } from "../session-clock.ts";
import { type CanSocket, FEW_FRAMES } from "./can-socket.ts";
import { FrameIntake } from "./frame-intake.ts";

/**
 * While frames flow they are taken every 10 ms: to wait by a poll for each of them costs four times
 * as much.
 */
const DRAIN_EVERY = 10 * MILLISECOND;
/** How often an idle socket is looked after. */
const IDLE_LOOK_MS = 1_000;

/** Why there is no socket: a clause, and whether a later attempt could succeed. */
export interface Refusal {
  readonly reason: string;
  readonly hopeless: boolean;
}

export interface SocketcanParts extends LiveParts {
  readonly interface: string;
  readonly buses: BusNames;
  /** The name that the person gave the bus. */
  readonly bus?: string;
  readonly batchSize?: number;
  /** What the first attempt gave: a socket hears from now on what is read later. */
  readonly first: CanSocket | Refusal;
  /** A socket that listens, or why there is none now. */
  readonly open: () => CanSocket | Refusal;
}

/**
 * The frames of one CAN interface. An interface that is switched off and on again keeps its socket;
 * one that vanished comes back as another, so the socket is closed and opened anew by name until it
 * is there again.
 */
export class SocketcanSource implements FrameSource {
  readonly title: string;
  readonly live = true;
  readonly lateness = 50 * MILLISECOND;
  readonly stampedHere = true;
  readonly #parts: SocketcanParts;
  readonly #bus: number;
  readonly #batch: FrameBatch;
  readonly #tally = new SourceTally();
  readonly #session: SessionClock;
  readonly #closing = new AbortController();
  /** Until `batches` takes it. */
  #first: CanSocket | Refusal | undefined;
  #socket: CanSocket | undefined;
  #down = false;

  constructor(parts: SocketcanParts) {
    this.title = parts.bus ?? parts.interface;
    this.#parts = parts;
    this.#first = parts.first;
    this.#bus = parts.buses.give(this.title);
    this.#batch = new FrameBatch(parts.batchSize ?? USUAL_BATCH);
    this.#session = new SessionClock(parts.clock);
  }

  get counts() {
    return this.#tally.counts;
  }

  get problems() {
    return this.#tally.problems;
  }

  get hasWaiting(): boolean {
    return this.#socket?.hasWaiting ?? false;
  }

  stop(): void {
    this.#closing.abort();
    this.#socket?.wake();
    if (this.#first !== undefined && !("hopeless" in this.#first)) void this.#first.close();
    this.#first = undefined;
  }

  /** To be read once. */
  async *batches(): AsyncGenerator<FrameBatch> {
    const { open, delay, sleep, told } = this.#parts;
    const { signal } = this.#closing;
    for (let attempt = 1; !signal.aborted; attempt++) {
      const opened = this.#first ?? open();
      this.#first = undefined;
      let kind: "refused" | "lost" = "refused";
      let reason: string;
      if ("hopeless" in opened) {
        reason = opened.reason;
      } else {
        this.#socket = opened;
        attempt = 1;
        kind = "lost";
        told?.({ kind: "connected" });
        if (opened.room < FEW_FRAMES) told?.({ kind: "small-buffer", frames: opened.room });
        try {
          reason = yield* this.#listen(opened);
        } finally {
          this.#socket = undefined;
          await opened.close();
        }
      }
      if (signal.aborted) return;
      const retryIn = delay(attempt);
      told?.({ kind, reason, retryIn });
      await sleep(retryIn, signal);
    }
  }

  /** Yields what comes until it is stopped or the interface is gone; returns why it ended. */
  async *#listen(socket: CanSocket): AsyncGenerator<FrameBatch, string> {
    const { signal } = this.#closing;
    const intake = new FrameIntake({
      slots: socket.slots,
      tally: this.#tally,
      bus: this.#bus,
      now: () => this.#session.now(),
      told: this.#parts.told,
    });
    this.#down = false;
    while (!signal.aborted) {
      const count = socket.receive();
      if (count > 0) {
        this.#setDown(false);
        yield* this.#hand(intake, count);
        if (count < socket.slots.capacity) await this.#parts.sleep(DRAIN_EVERY, signal);
        continue;
      }
      if (-count === Errno.networkDown) this.#setDown(true);
      else if (-count !== Errno.again && -count !== Errno.interrupted) return sayErrno(-count);
      intake.dropped(socket.dropped());
      if (!socket.isThere) return sayErrno(Errno.noDevice);
      await socket.wait(IDLE_LOOK_MS);
    }
    yield* this.#drain(socket, intake);
    return "";
  }

  /** What had come when we were told to stop is still taken. */
  async *#drain(socket: CanSocket, intake: FrameIntake): AsyncGenerator<FrameBatch> {
    const most = Math.ceil(socket.room / socket.slots.capacity);
    for (let taken = 0; taken <= most; taken++) {
      const count = socket.receive();
      if (count <= 0) return;
      yield* this.#hand(intake, count);
      if (count < socket.slots.capacity) return;
    }
  }

  /** Hands on the frames in the first `count` slots; those after a step of the clock by themselves. */
  async *#hand(intake: FrameIntake, count: number): AsyncGenerator<FrameBatch> {
    const batch = this.#batch;
    let stepped = this.#session.look();
    for (let slot = 0; slot < count; slot++) {
      const time = intake.open(slot);
      const stepsHere = stepped && this.#session.isAfterStep(time);
      if (batch.full || (stepsHere && batch.count > 0)) {
        yield batch;
        batch.count = 0;
      }
      if (stepsHere) this.#step();
      stepped &&= !stepsHere;
      intake.add(slot, time, batch);
    }
    if (batch.count > 0) yield batch;
    batch.count = 0;
  }

  #step(): void {
    this.#parts.told?.({ kind: "clock-step", by: this.#session.takeStep() });
  }

  #setDown(down: boolean): void {
    if (this.#down === down) return;
    this.#down = down;
    const { interface: name, told } = this.#parts;
    told?.(down ? { kind: "interface-down", interface: name } : { kind: "interface-up" });
  }
}
