import { type Micros, SECOND } from "../../ground/time.ts";
import { sayDuration } from "../../units/duration.ts";
import type { RecordingInput } from "./inputs.ts";

const WIDTH = 24;

/**
 * `█████████░░░░░░░░░░░░░░░ 38 % of 12 recordings, about 40 s left`: by the bytes of what is behind
 * and of what is not. Of what has no size, as a pipe, only that it is followed is known.
 */
export class Progress {
  readonly #begun: Micros;
  readonly #whole: number;
  readonly #what: string;

  constructor(recordings: readonly RecordingInput[], readonly now: () => Micros) {
    this.#begun = now();
    this.#whole = recordings.reduce((sum, { size }) => sum + size, 0);
    this.#what = recordings.length === 1 ? "the recording" : `${recordings.length} recordings`;
  }

  /** @param behind bytes that are followed */
  line(behind: number): string {
    if (this.#whole === 0) return `Following ${this.#what}`;
    const share = Math.min(1, behind / this.#whole);
    const full = Math.floor(share * WIDTH);
    const bar = "█".repeat(full) + "░".repeat(WIDTH - full);
    const left = sayTimeLeft(this.now() - this.#begun, behind, this.#whole - behind);
    return `${bar} ${Math.floor(share * 100)} % of ${this.#what}${left}`;
  }
}

/** Until then what is behind tells of the start alone: the first guesses were of twenty minutes. */
const SOON: Micros = 2 * SECOND;

/** `, about 40 s left`, as far as what is behind tells; nothing at the beginning and at the end. */
export function sayTimeLeft(taken: Micros, behind: number, ahead: number): string {
  if (taken < SOON || behind === 0 || ahead <= 0) return "";
  const left = Math.round(taken * ahead / behind / SECOND) * SECOND;
  return `, about ${sayDuration(Math.max(SECOND, left))} left`;
}
