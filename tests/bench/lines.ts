/** One line of the bench: work to repeat, and the least share of the bare loop that is wanted. */
export interface Line {
  readonly title: string;
  /** Makes everything anew and returns the work to time. */
  readonly prepare: () => () => void;
  /** Null: for orientation only. */
  readonly floor: number | null;
  /** Frames that its work takes, where that is not all of them. */
  readonly frames?: number;
}

export interface Result {
  readonly line: Line;
  /** Frames a second, median of the rounds. */
  readonly rate: number;
  /** Median of the rounds' own ratios to the first line: both ran within the same second. */
  readonly ratio: number;
}

/** Runs all lines in turn, round after round; the first round only warms up. */
export function runLines(lines: readonly Line[], frames: number, rounds: number): Result[] {
  const rates: number[][] = lines.map(() => []);
  for (let round = 0; round <= rounds; round++) {
    for (const [number, line] of lines.entries()) {
      const work = line.prepare();
      const began = performance.now();
      work();
      const seconds = (performance.now() - began) / 1000;
      if (round > 0) rates[number].push((line.frames ?? frames) / seconds);
    }
  }
  return lines.map((line, number) => ({
    line,
    rate: median(rates[number]),
    ratio: median(rates[number].map((rate, round) => rate / rates[0][round])),
  }));
}

function median(numbers: readonly number[]): number {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1];
}
