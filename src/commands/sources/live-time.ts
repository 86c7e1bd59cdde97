import type { FrameBatch } from "../../bus/frame-batch.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";

/**
 * A timer must not overtake a frame on its way (design, two clocks): through a pipe, where the source
 * does not say how late its frames may come.
 */
const USUAL_LATENESS: Micros = 500 * MILLISECOND;
/** A clock that is further off than a network delays its frames is another one, or was set. */
const MOST_APART: Micros = SECOND;

/**
 * The one time of all live sources. While nothing is heard it goes on from the last stamp by our own
 * steady clock, since the clock that made the stamp may be another computer's. Where there are
 * several sources, the stamps of a connection are held against it: a clock that is off would make
 * time jump to and fro.
 */
export class LiveTime {
  /** The last stamp of a live source, and when it came. */
  #heard: { readonly stamp: Micros; readonly at: Micros; readonly late: Micros } | undefined;
  #areSeveral = false;
  /** What is added to the stamps of a source whose clock is off. */
  readonly #shifts = new Map<FrameSource, Micros>();

  constructor(readonly clock: Clock) {}

  /** A bus that is dead from the beginning has no stamp to go on from, but perhaps our own clock. */
  begin(sources: readonly FrameSource[]): void {
    this.#areSeveral = sources.filter(({ live }) => live).length > 1;
    const here = sources.find(({ stampedHere }) => stampedHere);
    if (here !== undefined) this.#note(here, this.clock.wall());
  }

  /** Frames have just come; their stamps are put right before anybody uses them. */
  hear(source: FrameSource, { count, times }: FrameBatch): void {
    const shift = this.#shiftOf(source, times[count - 1]);
    if (shift !== 0) { for (let i = 0; i < count; i++) times[i] += shift; }
    this.#note(source, times[count - 1]);
  }

  /**
   * Frames have come that had to wait for us, so that they tell nothing of what time it is. Their
   * stamps are put right as those before were; those of a source that was never heard as if they had
   * not waited, since nobody can tell the one from the other.
   * @returns how long the last of them has waited; 0 before anything was heard
   */
  hearLate(source: FrameSource, batch: FrameBatch): Micros {
    const { count, times } = batch;
    const now = this.now();
    if (now === undefined) {
      this.hear(source, batch);
      return 0;
    }
    const shift = this.#shifts.get(source) ?? this.#shiftOf(source, times[count - 1]);
    if (shift !== 0) { for (let i = 0; i < count; i++) times[i] += shift; }
    return now - times[count - 1];
  }

  /** What no frame on its way can lie before; undefined before anything was heard. */
  reached(): Micros | undefined {
    return this.#heard && this.#elapsed(this.#heard) - this.#heard.late;
  }

  /** The same without what may be on its way: for who waits longer, or when the sources have stopped. */
  now(): Micros | undefined {
    return this.#heard && this.#elapsed(this.#heard);
  }

  #note({ lateness = USUAL_LATENESS }: FrameSource, stamp: Micros): void {
    this.#heard = { stamp, at: this.clock.steady(), late: lateness };
  }

  #elapsed({ stamp, at }: { readonly stamp: Micros; readonly at: Micros }): Micros {
    return stamp + this.clock.steady() - at;
  }

  /** One source alone is right, and so are our own stamps. */
  #shiftOf(source: FrameSource, last: Micros): Micros {
    const now = this.now();
    if (!this.#areSeveral || source.stampedHere === true || now === undefined) return 0;
    const before = this.#shifts.get(source) ?? 0;
    const isStillApart = Math.abs(last + before - now) > MOST_APART;
    const isRight = Math.abs(last - now) <= MOST_APART;
    const shift = !isStillApart ? before : isRight ? 0 : now - last;
    this.#shifts.set(source, shift);
    return shift;
  }
}
