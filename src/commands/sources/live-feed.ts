import { type FrameBatch, partOf } from "../../bus/frame-batch.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import { HeldFrames } from "../../bus/held-frames.ts";
import { type UnknownTime, unknownTimesIn, withoutUnknownTimes } from "../../bus/unknown-times.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Watch } from "../../watch.ts";
import { HeldClock } from "./held-clock.ts";
import { LiveTime } from "./live-time.ts";
import { OtherClock } from "./other-clock.ts";
import { Stall } from "./stall.ts";

/** A frame that is handed to us so much later than it was stamped has waited for us. */
const HAS_WAITED: Micros = SECOND;
/** Where frames of a source may have been lost, a longer time without any does not count as silence. */
const LONGEST_PAUSE: Micros = SECOND;
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
 * read, nobody knows what was said when: there time stands still, for what the others say as well.
 * Stamps of another computer say themselves what was silent there.
 */
export class LiveFeed {
  readonly #clock: HeldClock;
  readonly #time: LiveTime;
  #stall: Stall;
  readonly #otherClock: OtherClock;
  readonly #held = new HeldFrames();
  #sources: readonly FrameSource[] = [];
  /** How many frames each source had lost before those that were fed last. */
  readonly #dropped = new Map<FrameSource, number>();
  /** The stamp that time has come to. */
  #last: Micros = Infinity;
  /** Our clock on the wall less the steady one, when we began: what is stamped here goes on by it. */
  #offset: Micros = 0;
  /** By our own stamps, when this program was awake again; NaN while it is not catching up. */
  #awoke: Micros = NaN;

  constructor(clock: Clock, readonly watch: Pick<Watch, "feed" | "advance" | "timeline">) {
    this.#clock = new HeldClock(clock);
    this.#time = new LiveTime(this.#clock);
    this.#stall = this.#newStall();
    this.#otherClock = new OtherClock(this.#clock);
  }

  begin(sources: readonly FrameSource[]): void {
    this.#clock.look();
    // To open them may have taken long.
    this.#stall = this.#newStall();
    this.#sources = sources.filter(({ live }) => live);
    this.#offset = this.#clock.wall() - this.#clock.steady();
    this.#time.begin(sources);
  }

  #newStall(): Stall {
    return new Stall(this.#clock, () => this.#sources.some((source) => source.hasWaiting === true));
  }

  /** Frames that have just come. */
  take(source: FrameSource, batch: FrameBatch): void {
    this.#clock.look();
    if (this.#isCatchingUp()) {
      const waited = this.#time.hearLate(source, batch);
      if (waited > HAS_WAITED) this.#stall.stillComes();
      this.#held.hold(source, batch);
      if (this.#held.count > MOST_HELD) this.settle();
    } else {
      this.#time.hear(source, batch);
      this.#feedSteadily(source, batch);
    }
  }

  /** Where the clock of another computer was set forward, no time has passed. */
  #feedSteadily(source: FrameSource, batch: FrameBatch): void {
    const isOther = this.#sources.length === 1 && source.stampedHere !== true;
    const at = isOther ? this.#otherClock.setForwardIn(batch) : -1;
    if (at < 0) return this.#feed(batch);
    if (at > 0) this.#feed(partOf(batch, 0, at));
    const after = partOf(batch, at, batch.count);
    after.clockStep = batch.times[at] - this.#last;
    this.#feed(after);
  }

  /**
   * Lets time pass while nothing is heard; to be called often.
   * @param patience how long to wait for frames on their way; as long as their source says if not given
   */
  pass(patience?: Micros): void {
    this.#clock.look();
    if (this.#isCatchingUp()) return;
    const now = this.#time.now();
    const reached = patience === undefined || now === undefined
      ? this.#time.reached()
      : now - patience;
    this.#advance(reached);
  }

  /** The sources have ended: nothing is on its way any more. */
  end(): void {
    this.#clock.look();
    this.settle();
    this.#advance(this.#time.now());
  }

  /** Gives what is held; time does not pass. */
  settle(): void {
    if (this.#held.count === 0) return;
    const unknown = this.#unknownTimes();
    for (const batch of withoutUnknownTimes(this.#held.inOrder(), unknown)) this.#feed(batch);
  }

  #unknownTimes(): UnknownTime[] {
    const stampedHere = this.#sources.filter((source) => source.stampedHere === true);
    return stampedHere.flatMap((source) => {
      const hasLost = source.counts.dropped > (this.#dropped.get(source) ?? 0);
      return unknownTimesIn(this.#held.of(source), {
        before: this.#last,
        longest: LONGEST_PAUSE,
        endsFrom: hasLost ? -Infinity : this.#awoke - ABOUT,
      });
    });
  }

  #isCatchingUp(): boolean {
    const isCatchingUp = this.#stall.isCatchingUp();
    if (!isCatchingUp) {
      this.settle();
      this.#awoke = NaN;
    } else if (Number.isNaN(this.#awoke)) {
      this.#awoke = this.#clock.steady() + this.#offset;
    }
    return isCatchingUp;
  }

  #feed(batch: FrameBatch): void {
    this.watch.feed(batch);
    this.#last = batch.times[batch.count - 1];
    for (const source of this.#sources) this.#dropped.set(source, source.counts.dropped);
  }

  #advance(reached: Micros | undefined): void {
    if (reached === undefined) return;
    const { timeline } = this.watch;
    if (timeline.steadyOf(reached) <= timeline.now) return;
    this.watch.advance(reached);
    this.#last = reached;
  }
}
