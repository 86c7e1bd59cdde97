import { type Micros, MILLISECOND } from "../../ground/time.ts";

/** Intervals that differ by a smaller share are one interval that is uneven. Judgement. */
const ALIKE = 0.1;
/** What the next interval may lie beyond those that are known: a share of it, and stamps. Judgement. */
const UNEVEN = 0.01;
const STAMPS: Micros = 2 * MILLISECOND;

/** What one kind of frame tells about a jump. */
export interface Testimony {
  readonly isKept: boolean;
  /** How likely a beat that begins anew seems to be kept: 0 to 1. */
  readonly chance: number;
}

/**
 * The intervals at which frames of one kind came, learned from the latest back to the earliest. They
 * need not be even: frames of one message follow each other closely, and two batteries may speak in
 * turn; but an interval that was there before will come again.
 */
export class Rhythm {
  readonly #intervals: Micros[] = [];
  #earliest: Micros;

  constructor(readonly last: Micros) {
    this.#earliest = last;
  }

  /** One that came before all that are known. */
  goBack(time: Micros): void {
    this.#intervals.push(this.#earliest - time);
    this.#earliest = time;
  }

  /**
   * Whether the next frame came as one interval after the last; undefined where that tells nothing,
   * since there is no rhythm or not enough was heard.
   * @param quiet time from the last frame to the jump
   * @param came time from the jump to the next frame; Infinity where none has come
   * @param heard time from the jump to whatever was heard last
   * @param unsure time that may have passed at the jump itself, at most
   */
  judge({ quiet, came, heard, unsure }: {
    readonly quiet: Micros;
    readonly came: Micros;
    readonly heard: Micros;
    readonly unsure: Micros;
  }): Testimony | undefined {
    const due = this.#intervals.filter((interval) => interval >= quiet).sort((a, b) => a - b);
    if (due.length < 2) return undefined;
    const spans = spansOf(due);
    const latest = spans[spans.length - 1].to;
    if (latest - quiet > heard) return undefined;
    const interval = quiet + came;
    let covered = 0;
    let reached = quiet;
    for (const { from, to } of spans) {
      covered += to - Math.max(from - unsure, reached);
      reached = to;
    }
    const isKept = spans.some(({ from, to }) => interval >= from - unsure && interval <= to);
    return { isKept, chance: covered / latest };
  }
}

/** Between which lengths the next interval may be, shortest first. @param intervals sorted */
function spansOf(intervals: readonly Micros[]): { readonly from: Micros; readonly to: Micros }[] {
  const spans = [];
  for (let first = 0, i = 1; i <= intervals.length; i++) {
    if (i < intervals.length && intervals[i] - intervals[i - 1] < ALIKE * intervals[i]) continue;
    const shortest = intervals[first];
    const longest = intervals[i - 1];
    const more = (longest - shortest) / 2 + UNEVEN * longest + STAMPS;
    spans.push({ from: shortest - more, to: longest + more });
    first = i;
  }
  return spans;
}
