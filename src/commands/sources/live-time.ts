import type { FrameSource } from "../../bus/frame-source.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND } from "../../ground/time.ts";

/**
 * A timer must not overtake a frame on its way (design, two clocks): through a pipe, where the source
 * does not say how late its frames may come.
 */
const USUAL_LATENESS: Micros = 500 * MILLISECOND;

/**
 * How far the time of live sources has come while nothing is heard: from the last stamp on by our own
 * steady clock, since the clock that made the stamp may be another computer's.
 */
export class LiveTime {
  /** The last stamp of a live source, and when it came. */
  #heard: { readonly stamp: Micros; readonly at: Micros; readonly late: Micros } | undefined;

  constructor(readonly clock: Clock) {}

  /** A bus that is dead from the beginning has no stamp to go on from, but perhaps our own clock. */
  begin(sources: readonly FrameSource[]): void {
    const here = sources.find(({ stampedHere }) => stampedHere);
    if (here !== undefined) this.hear(here, this.clock.wall());
  }

  /** A frame with this stamp has just come. */
  hear({ lateness = USUAL_LATENESS }: FrameSource, stamp: Micros): void {
    this.#heard = { stamp, at: this.clock.steady(), late: lateness };
  }

  /** What no frame on its way can lie before; undefined before anything was heard. */
  reached(): Micros | undefined {
    return this.#heard && this.#elapsed(this.#heard) - this.#heard.late;
  }

  /** The same once the sources have stopped, so that no frame is on its way. */
  ended(): Micros | undefined {
    return this.#heard && this.#elapsed(this.#heard);
  }

  #elapsed({ stamp, at }: { readonly stamp: Micros; readonly at: Micros }): Micros {
    return stamp + this.clock.steady() - at;
  }
}
