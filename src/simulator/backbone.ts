import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import { type Micros, MILLISECOND } from "../ground/time.ts";
import { HeldFrames } from "./held-frames.ts";
import type { Random } from "./random.ts";

/** A frame of eight bytes with a 29-bit identifier at 250 kbit/s, stuffed bits included. */
const FRAME_TIME: Micros = 560;
/** What slow devices leave between two frames of one message. */
const GAP: Micros = 3 * MILLISECOND;
/** Of the frames that a bad line hits, so many are lost without an error frame. */
const LOST_UNSEEN = 1 / 3;
/** CAN_ERR_PROT with CAN_ERR_BUSERROR, and CAN_ERR_PROT_STUFF: Linux's `can/error.h`, from memory. */
const PROTOCOL_ERROR = 0x88;
const STUFF_ERROR = 0x04;

/**
 * The line between the boxes. It carries one frame at a time, so frames queue; and it can be bad:
 * whatever it does to frames it does here, after they were made.
 */
export class Backbone {
  /** Share of the frames that are hit. */
  hit = 0;
  onlyWhileTransmitting = false;
  transmitting = false;
  /** Messages of several frames let others come between. */
  interleaves = false;
  /** How far the clock that stamps the frames is off. */
  clockOff: Micros = 0;
  readonly #random: Random;
  readonly #held = new HeldFrames();
  #free: Micros = 0;

  constructor(random: Random) {
    this.#random = random;
  }

  /** When the next frame that was held back is due. */
  get nextDue(): Micros {
    return this.#held.nextDue;
  }

  /** Takes over the frames of a message, those of the batch from `first` on. */
  carry(batch: FrameBatch, first: number, time: Micros): void {
    if (this.interleaves) {
      for (let frame = first + 1; frame < batch.count; frame++) {
        this.#held.hold(batch, frame, time + (frame - first) * GAP);
      }
      batch.count = Math.min(batch.count, first + 1);
    }
    this.#send(batch, first, time);
  }

  /** Appends the one that was held back and is due next. */
  release(batch: FrameBatch): void {
    const due = this.#held.nextDue;
    this.#held.appendNext(batch);
    this.#send(batch, batch.count - 1, due);
  }

  #send(batch: FrameBatch, first: number, time: Micros): void {
    const bad = this.hit > 0 && (this.transmitting || !this.onlyWhileTransmitting);
    let arrived = first;
    for (let frame = first; frame < batch.count; frame++) {
      const began = Math.max(time, this.#free);
      this.#free = began + FRAME_TIME;
      const hit = bad && this.#random.fraction() < this.hit;
      if (hit && this.#random.fraction() < LOST_UNSEEN) continue;
      if (arrived !== frame) move(batch, frame, arrived);
      if (hit) makeError(batch, arrived);
      batch.times[arrived] = began + this.clockOff;
      arrived++;
    }
    batch.count = arrived;
  }
}

function move(batch: FrameBatch, from: number, to: number): void {
  batch.buses[to] = batch.buses[from];
  batch.flags[to] = batch.flags[from];
  batch.identifiers[to] = batch.identifiers[from];
  batch.lengths[to] = batch.lengths[from];
  const at = from * FRAME_BYTES;
  batch.data.copyWithin(to * FRAME_BYTES, at, at + FRAME_BYTES);
}

/** What the adapter reports instead of the frame. */
function makeError(batch: FrameBatch, frame: number): void {
  batch.flags[frame] = FrameFlag.error;
  batch.identifiers[frame] = PROTOCOL_ERROR;
  batch.lengths[frame] = FRAME_BYTES;
  const at = frame * FRAME_BYTES;
  batch.data.fill(0, at, at + FRAME_BYTES);
  batch.data[at + 2] = STUFF_ERROR;
}

/** Sends a short fast packet as a plain frame: without its counter and its length before it. */
export function misframe(batch: FrameBatch, frame: number): void {
  const at = frame * FRAME_BYTES;
  const header = 2;
  batch.data.copyWithin(at, at + header, at + FRAME_BYTES);
  batch.data.fill(0xff, at + FRAME_BYTES - header, at + FRAME_BYTES);
}
