import { type Micros, SECOND } from "../../ground/time.ts";
import { sayDuration } from "../../units/duration.ts";
import type { RecordingInput } from "./inputs.ts";

/**
 * `3 of 12 recordings followed, about 40 s left`: the time left goes by the bytes of what is done and
 * of what is not, and is said once something is done.
 */
export class Progress {
  readonly #begun: Micros;

  constructor(readonly recordings: readonly RecordingInput[], readonly now: () => Micros) {
    this.#begun = now();
  }

  /** @param done how many recordings are followed to their end */
  line(done: number): string {
    const count = this.recordings.length;
    const head = `${done} of ${count} ${count === 1 ? "recording" : "recordings"} followed`;
    const behind = bytesOf(this.recordings.slice(0, done));
    const ahead = bytesOf(this.recordings.slice(done));
    return `${head}${sayTimeLeft(this.now() - this.#begun, behind, ahead)}`;
  }
}

/** `, about 40 s left`, as far as what is behind tells; nothing at the beginning and at the end. */
export function sayTimeLeft(taken: Micros, behind: number, ahead: number): string {
  if (behind === 0 || ahead === 0) return "";
  const left = Math.round(taken * ahead / behind / SECOND) * SECOND;
  return `, about ${sayDuration(Math.max(SECOND, left))} left`;
}

function bytesOf(recordings: readonly RecordingInput[]): number {
  return recordings.reduce((sum, { size }) => sum + size, 0);
}
