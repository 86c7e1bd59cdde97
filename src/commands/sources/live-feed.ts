import type { FrameBatch } from "../../bus/frame-batch.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import { HeldFrames } from "../../bus/held-frames.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { Watch } from "../../watch.ts";
import { LiveTime } from "./live-time.ts";
import { Stall } from "./stall.ts";

/** A frame that is handed to us so much later than it was stamped has waited for us. */
const HAS_WAITED: Micros = SECOND;
/** Frames that are held at most: a minute of a full bus. */
const MOST_HELD = 100_000;

/**
 * What live sources say, and the time that passes meanwhile, for a watch. After this program was
 * stopped for a while (a busy computer, one that was suspended) frames wait in the system's buffers:
 * they are taken first, in the order of their times whatever source they are from, and only then does
 * time pass. Otherwise all that was said meanwhile would be missing at the time of the first frame.
 */
export class LiveFeed {
  readonly #time: LiveTime;
  readonly #stall: Stall;
  readonly #held = new HeldFrames();

  constructor(clock: Clock, readonly watch: Pick<Watch, "feed" | "advance" | "timeline">) {
    this.#time = new LiveTime(clock);
    this.#stall = new Stall(clock);
  }

  begin(sources: readonly FrameSource[]): void {
    this.#time.begin(sources);
  }

  /** Frames that have just come. */
  take(source: FrameSource, batch: FrameBatch): void {
    if (this.#stall.isCatchingUp()) {
      const waited = this.#time.hearLate(source, batch);
      if (waited > HAS_WAITED) this.#stall.stillComes();
      this.#held.hold(source, batch);
      if (this.#held.count > MOST_HELD) this.settle();
    } else {
      this.settle();
      this.#time.hear(source, batch);
      this.watch.feed(batch);
    }
  }

  /**
   * Lets time pass while nothing is heard; to be called often.
   * @param patience how long to wait for frames on their way; as long as their source says if not given
   */
  pass(patience?: Micros): void {
    if (this.#stall.isCatchingUp()) return;
    this.settle();
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
    for (const batch of this.#held.inOrder()) this.watch.feed(batch);
  }

  #advance(reached: Micros | undefined): void {
    if (reached !== undefined && reached > this.watch.timeline.now) this.watch.advance(reached);
  }
}
