import type { Arguments, OptionTable } from "./arguments.ts";
import type { ExitCode } from "./exit-codes.ts";
import type { Terminal } from "./terminal.ts";

/** What every command is given; nothing else of the process is touched by `run`. */
export interface Surroundings {
  readonly terminal: Terminal;
  /** The folder in which the person typed: relative paths start here. */
  readonly folder: string;
  /** Aborts when the person interrupts; the reason is the exit code. */
  readonly interrupted: AbortSignal;
}

export interface Command {
  readonly name: string;
  /** "sternfast rehearse INPUT…" */
  readonly usage: string;
  /** A few sentences, wrapped by hand at 80 columns. */
  readonly description: string;
  /** Lines that a person can type as they stand. */
  readonly examples: readonly string[];
  readonly options: OptionTable;
  run(given: Arguments, around: Surroundings): Promise<ExitCode>;
}
