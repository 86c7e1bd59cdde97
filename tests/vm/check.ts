/** One check that runs inside the virtual machine. */
export interface Check {
  /** A sentence of behaviour. */
  readonly name: string;
  /** Throws what does not hold; `note` prints a figure. */
  readonly run: (note: (text: string) => void) => Promise<void>;
}
