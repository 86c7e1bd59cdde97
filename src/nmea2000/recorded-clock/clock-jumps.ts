import { FRAME_BYTES, FrameBatch, partOf } from "../../bus/frame-batch.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { busGoesOn } from "./bus-goes-on.ts";
import { FrameHistory } from "./frame-history.ts";

/** A shorter jump is no matter: nothing is presumed of so short a silence. */
const JUMP: Micros = 2 * SECOND;
/** How long after a jump is looked whether the bus went on. */
const LOOK_AHEAD: Micros = 2 * SECOND;
/** Frames that are held back meanwhile, at most: two seconds of several full buses. */
const HELD = 16_384;

/**
 * Tells, in the frames of a recording, a clock that was set forward from a bus that was silent. Both
 * look the same at first, so the frames after a jump are held back for two seconds of their own time
 * (`busGoesOn`). What comes out are the same frames in the same order, and the batch that follows a
 * step says so (`FrameBatch.clockStep`). It depends on the frames alone, not on the size of batches.
 *
 * Order of calls: `take` for each batch, `end` after the last; each yields what is decided by then,
 * to be used before it goes on.
 */
export class ClockJumps {
  /** Steps that were found, and how far the clock was set in all. */
  count = 0;
  by: Micros = 0;
  readonly #history = new FrameHistory();
  readonly #held = new FrameBatch(HELD);
  #last: Micros = NaN;

  *take(batch: FrameBatch): Generator<FrameBatch> {
    const { times, count } = batch;
    for (let from = 0; from < count;) {
      if (this.#held.count > 0) {
        from = this.#hold(batch, from);
        if (from < count || this.#held.full) yield this.#decide();
        continue;
      }
      let last = this.#last;
      let to = from;
      // Also true where there is no last one.
      while (to < count && !(times[to] - last > JUMP)) last = times[to++];
      if (to > from) {
        this.#history.take(batch, from, to);
        this.#last = last;
        yield from === 0 && to === count ? batch : partOf(batch, from, to);
      }
      from = to;
      if (from < count) append(this.#held, batch, from++);
    }
  }

  *end(): Generator<FrameBatch> {
    if (this.#held.count > 0) yield this.#decide();
  }

  /** Holds back what still belongs to the look ahead. @returns the first that does not */
  #hold(batch: FrameBatch, from: number): number {
    const held = this.#held;
    const { times, count } = batch;
    const until = held.times[0] + LOOK_AHEAD;
    const most = Math.min(count, from + held.capacity - held.count);
    let last = held.times[held.count - 1];
    let to = from;
    while (to < most && times[to] <= until && Math.abs(times[to] - last) <= JUMP) {
      last = times[to++];
    }
    append(held, batch, from, to);
    return to;
  }

  /** What was held back, and whether the clock was set before it. */
  #decide(): FrameBatch {
    const held = this.#held;
    const by = held.times[0] - this.#last;
    const isStep = busGoesOn(this.#history, this.#last, held);
    if (isStep) {
      this.count++;
      this.by += by;
    }
    this.#history.take(held, 0, held.count);
    this.#last = held.times[held.count - 1];
    const decided = partOf(held, 0, held.count);
    decided.clockStep = isStep ? by : 0;
    held.count = 0;
    return decided;
  }
}

/** Copies frames of one batch to the end of another. */
function append(held: FrameBatch, batch: FrameBatch, from: number, to = from + 1): void {
  const at = held.count;
  held.times.set(batch.times.subarray(from, to), at);
  held.buses.set(batch.buses.subarray(from, to), at);
  held.flags.set(batch.flags.subarray(from, to), at);
  held.identifiers.set(batch.identifiers.subarray(from, to), at);
  held.lengths.set(batch.lengths.subarray(from, to), at);
  held.data.set(batch.data.subarray(from * FRAME_BYTES, to * FRAME_BYTES), at * FRAME_BYTES);
  held.count += to - from;
}
