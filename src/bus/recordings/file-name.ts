import { isoTime, type Micros } from "../../ground/time.ts";

/**
 * The name of a recording that begins at a time, so that names sort as the files follow one another:
 * "2026-06-14T10-12-03Z.log.gz", without the colons that a memory card's file system refuses. Where
 * the clock was set back a second may come again: then `turn` counts, "…-2.log.gz".
 */
export function recordingName(begins: Micros, turn: number): string {
  const time = isoTime(begins, 3).slice(0, 19).replaceAll(":", "-");
  return turn === 1 ? `${time}Z.log.gz` : `${time}Z-${turn}.log.gz`;
}
