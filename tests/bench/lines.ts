import type { RuleCounts } from "./rules.ts";

/** One line of the bench: work to repeat, and the least share of the bare loop that is wanted. */
export interface Line {
  readonly title: string;
  /** Makes everything anew and returns the work to time. */
  readonly prepare: () => () => void;
  /** Null: for orientation only. */
  readonly floor: number | null;
  /** Frames that its work takes, where that is not all of them. */
  readonly frames?: number;
  /** Of a line with rules: what it counted. */
  readonly counts?: RuleCounts;
}

export interface Result {
  readonly line: Line;
  /** Frames a second in the fastest of the rounds: whatever else a computer does only slows one. */
  readonly rate: number;
  /** To the first line's. */
  readonly ratio: number;
}

/** Runs all lines in turn, round after round; the first round only warms up. */
export function runLines(lines: readonly Line[], frames: number, rounds: number): Result[] {
  const rates: number[] = lines.map(() => 0);
  for (let round = 0; round <= rounds; round++) {
    for (const [number, line] of lines.entries()) {
      const work = line.prepare();
      const began = performance.now();
      work();
      const seconds = (performance.now() - began) / 1000;
      const rate = (line.frames ?? frames) / seconds;
      if (round > 0) rates[number] = Math.max(rates[number], rate);
    }
  }
  return lines.map((line, number) => ({
    line,
    rate: rates[number],
    ratio: rates[number] / rates[0],
  }));
}
