import { FRAME_BYTES, type FrameBatch } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";

interface Held {
  readonly due: Micros;
  readonly bus: number;
  readonly flags: number;
  readonly identifier: number;
  readonly length: number;
  readonly data: Uint8Array;
}

/** Frames that are not yet on the line, in order of time; equal times in the order they came. */
export class HeldFrames {
  readonly #frames: Held[] = [];

  get nextDue(): Micros {
    return this.#frames.length === 0 ? Infinity : this.#frames[0].due;
  }

  hold(batch: FrameBatch, frame: number, due: Micros): void {
    const at = frame * FRAME_BYTES;
    let place = this.#frames.length;
    while (place > 0 && this.#frames[place - 1].due > due) place--;
    this.#frames.splice(place, 0, {
      due,
      bus: batch.buses[frame],
      flags: batch.flags[frame],
      identifier: batch.identifiers[frame],
      length: batch.lengths[frame],
      data: batch.data.slice(at, at + FRAME_BYTES),
    });
  }

  /** Appends the next one; the batch has room. */
  appendNext(batch: FrameBatch): void {
    const next = this.#frames.shift();
    if (next === undefined) return;
    const frame = batch.count++;
    batch.buses[frame] = next.bus;
    batch.flags[frame] = next.flags;
    batch.identifiers[frame] = next.identifier;
    batch.lengths[frame] = next.length;
    batch.data.set(next.data, frame * FRAME_BYTES);
  }
}
