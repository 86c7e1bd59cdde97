import type { FrameBatch } from "../../bus/frame-batch.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import { HeldFrames, withoutHoles } from "../../bus/held-frames.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Watch } from "../../watch.ts";
import { LiveTime } from "./live-time.ts";
import { Stall } from "./stall.ts";

/** A frame that is handed to us so much later than it was stamped has waited for us. */
const HAS_WAITED: Micros = SECOND;
/** Where frames may have been lost meanwhile, a longer time without any does not count as silence. */
const LONGEST_GAP: Micros = SECOND;
/** Frames that are stamped when they are read bear the time at which we were awake again, about. */
const ABOUT: Micros = 100 * MILLISECOND;
/** Frames that are held at most: a minute of a full bus. */
const MOST_HELD = 100_000;

/**
 * What live sources say, and the time that passes meanwhile, for a watch. After this program was
 * stopped for a while (a busy computer, one that was suspended) frames wait in the system's buffers:
 * they are taken first, in the order of their times whatever source they are from, and only then does
 * time pass. Otherwise all that was said meanwhile would be missing at the time of the first frame.
 * Where a buffer was too small for all of them, or a serial line's frames are stamped when they are
 * read, nobody knows what was said when: there time stands still.
 */
export class LiveFeed {
  readonly #time: LiveTime;
  #stall: Stall;
  readonly #held = new HeldFrames();
  #sources: readonly FrameSource[] = [];
  /** Stamps of another computer say what was silent there, and what passed there is not held up here. */
  #areStampedHere = false;
  /** Frames that were lost before the last that were fed, and the time of these. */
  #dropped = 0;
  #last: Micros = Infinity;
  /** When this program was awake again; NaN while it is not catching up. */
  #awoke: Micros = NaN;

  constructor(clock: Clock, readonly watch: Pick<Watch, "feed" | "advance" | "timeline">) {
    this.#time = new LiveTime(clock);
    this.#stall = new Stall(clock);
  }

  begin(sources: readonly FrameSource[]): void {
    // To open them may have taken long.
    this.#stall = new Stall(this.#stall.clock);
    this.#sources = sources.filter(({ live }) => live);
    this.#areStampedHere = this.#sources.every(({ stampedHere }) => stampedHere === true);
    this.#time.begin(sources);
  }

  /** Frames that have just come. */
  take(source: FrameSource, batch: FrameBatch): void {
    if (this.#isCatchingUp()) {
      const waited = this.#time.hearLate(source, batch);
      if (waited > HAS_WAITED) this.#stall.stillComes();
      this.#held.hold(source, batch);
      if (this.#held.count > MOST_HELD) this.settle();
    } else {
      this.#time.hear(source, batch);
      this.#feed(batch);
    }
  }

  /**
   * Lets time pass while nothing is heard; to be called often.
   * @param patience how long to wait for frames on their way; as long as their source says if not given
   */
  pass(patience?: Micros): void {
    if (this.#isCatchingUp()) return;
    const now = this.#time.now();
    const reached = patience === undefined || now === undefined
      ? this.#time.reached()
      : now - patience;
    this.#advance(reached);
  }

  /** The sources have ended: nothing is on its way any more. */
  end(): void {
    this.settle();
    this.#advance(this.#time.now());
  }

  /** Gives what is held; time does not pass. */
  settle(): void {
    if (this.#held.count === 0) return;
    const held = this.#held.inOrder();
    const from = this.#holesCountFrom();
    for (const batch of withoutHoles(held, this.#last, LONGEST_GAP, from)) this.#feed(batch);
  }

  /** From which time on a hole in the frames may be one in ours only. */
  #holesCountFrom(): Micros {
    if (!this.#areStampedHere || Number.isNaN(this.#awoke)) return Infinity;
    return this.#countDropped() > this.#dropped ? -Infinity : this.#awoke - ABOUT;
  }

  #isCatchingUp(): boolean {
    const isCatchingUp = this.#stall.isCatchingUp();
    if (!isCatchingUp) {
      this.settle();
      this.#awoke = NaN;
    } else if (Number.isNaN(this.#awoke)) {
      this.#awoke = this.#time.now() ?? NaN;
    }
    return isCatchingUp;
  }

  #feed(batch: FrameBatch): void {
    this.watch.feed(batch);
    this.#last = batch.times[batch.count - 1];
    this.#dropped = this.#countDropped();
  }

  #countDropped(): number {
    let sum = 0;
    for (const { counts } of this.#sources) sum += counts.dropped;
    return sum;
  }

  #advance(reached: Micros | undefined): void {
    if (reached === undefined) return;
    const { timeline } = this.watch;
    if (timeline.steadyOf(reached) > timeline.now) this.watch.advance(reached);
  }
}
