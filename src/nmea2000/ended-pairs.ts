import { FRAME_BYTES } from "../bus/frame-batch.ts";
import { type Micros, MILLISECOND } from "../ground/time.ts";

/** More than a bus carries within `REPEATED_WITHIN`. */
const KEPT = 64;
/** A gateway that repeats does so at once, and no message of two frames comes so often. */
const REPEATED_WITHIN: Micros = 50 * MILLISECOND;

/**
 * The second frames of messages of two that ended a moment ago. Their repeat would look like the
 * second frame of a message whose first was lost; a later frame would not.
 */
export class EndedPairs {
  readonly #places = new Int32Array(KEPT).fill(-1);
  readonly #times = new Float64Array(KEPT);
  readonly #frames = new Uint8Array(KEPT * FRAME_BYTES);
  #next = 0;

  /** @param place of the sender, message and sequence @param at where the frame lies in `data` */
  note(place: number, data: Uint8Array, at: number, now: Micros): void {
    const kept = this.#next;
    this.#next = (kept + 1) % KEPT;
    this.#places[kept] = place;
    this.#times[kept] = now;
    const to = kept * FRAME_BYTES;
    for (let i = 0; i < FRAME_BYTES; i++) this.#frames[to + i] = data[at + i];
  }

  hasJustEnded(place: number, data: Uint8Array, at: number, now: Micros): boolean {
    return this.#places.some((kept, i) => {
      if (kept !== place || now - this.#times[i] > REPEATED_WITHIN) return false;
      const frame = this.#frames.subarray(i * FRAME_BYTES, (i + 1) * FRAME_BYTES);
      return frame.every((byte, b) => byte === data[at + b]);
    });
  }
}
