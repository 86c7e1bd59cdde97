/** Contract §1. */
export const ExitCode = {
  well: 0,
  /** What was checked does not hold. */
  doesNotHold: 1,
  /** Input or arguments are wrong, or a recording ended early. */
  wrongInput: 2,
  interrupted: 130,
  terminated: 143,
} as const;
export type ExitCode = (typeof ExitCode)[keyof typeof ExitCode];

/** A sentence for the person, and the exit code that goes with it. */
export class CommandFailure extends Error {
  override readonly name = "CommandFailure";
  constructor(message: string, readonly exitCode: ExitCode = ExitCode.wrongInput) {
    super(message);
  }
}
