import { type FrameBatch, partOf } from "../bus/frame-batch.ts";
import { type Micros, SECOND } from "../ground/time.ts";

/** Further back than frames that come in disorder. */
const SET_BACK: Micros = 2 * SECOND;

/**
 * Cuts batches where a whole second of the recording begins, so that what is looked at once a second
 * is the same whatever the size of the batches. The pieces are views; nothing is copied.
 */
export class Seconds {
  /** Where the next second begins; NaN before the first frame. */
  #next: Micros = NaN;

  /** @param onSecond called between the last frame of a second and the first of a later one */
  constructor(readonly onSecond: () => void) {}

  cut(batch: FrameBatch, feed: (piece: FrameBatch) => void): void {
    if (batch.count === 0) return;
    if (Number.isNaN(this.#next)) this.#next = batch.times[0] + SECOND;
    let from = 0;
    for (let i = 0; i < batch.count; i++) {
      const time = batch.times[i];
      // The clock was set back: its seconds are counted anew.
      if (time < this.#next - SET_BACK) this.#next = time + SECOND;
      if (time < this.#next) continue;
      if (i > from) feed(partOf(batch, from, i));
      from = i;
      this.onSecond();
      this.#next += Math.floor((time - this.#next) / SECOND + 1) * SECOND;
    }
    feed(from === 0 ? batch : partOf(batch, from, batch.count));
  }
}
