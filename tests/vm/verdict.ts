/** What became of one check in the machine, as one line of its console. */
export interface Verdict {
  readonly name: string;
  /** Empty: it holds. */
  readonly fault: string;
  readonly seconds: number;
}

const MARK = "VERDICT ";

export function verdictLine(verdict: Verdict): string {
  return MARK + JSON.stringify(verdict);
}

/** The verdict in a line of the console; other lines hold none. */
export function readVerdict(line: string): Verdict | undefined {
  const at = line.indexOf(MARK);
  return at < 0 ? undefined : JSON.parse(line.slice(at + MARK.length));
}
