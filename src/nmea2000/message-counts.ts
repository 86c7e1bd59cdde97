/** Places in the arrays that count by sender: bus × 256 + source. */
export const SENDERS = 16 * 256;

/** The place of a sender in arrays of `SENDERS`. */
export function senderOf(bus: number, source: number): number {
  return (bus << 8) | source;
}

/** What the assembler could not deliver, and why. */
export class MessageCounts {
  /** Messages of PGNs without a row; they are delivered as row -1. */
  unknown = 0;
  /** Messages with a hole, or cut off, or pushed out. */
  lost = 0;
  /** Frames that cannot be what their PGN says they are. */
  malformed = 0;
  /** Frames that came twice, byte for byte, one right after the other: a gateway repeats them. */
  repeated = 0;
  /** By sender. */
  readonly lostBySource = new Uint32Array(SENDERS);
  readonly malformedBySource = new Uint32Array(SENDERS);
  readonly repeatedBySource = new Uint32Array(SENDERS);

  countLost(sender: number): void {
    this.lost++;
    this.lostBySource[sender]++;
  }

  countMalformed(sender: number): void {
    this.malformed++;
    this.malformedBySource[sender]++;
  }

  countRepeated(sender: number): void {
    this.repeated++;
    this.repeatedBySource[sender]++;
  }
}
