/** Turns a count that the kernel keeps for one socket, modulo 2³², into what was lost since. */
export class DropCount {
  #seen = 0;

  /** Frames lost since the last call. */
  since(count: number): number {
    const more = (count - this.#seen) >>> 0;
    // The two ways to ask may answer out of turn; a count does not run back.
    if (more >= 2 ** 31) return 0;
    this.#seen = count;
    return more;
  }
}
