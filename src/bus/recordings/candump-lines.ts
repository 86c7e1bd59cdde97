import type { FrameBatch } from "../frame-batch.ts";
import type { FrameParser } from "../frame-parser.ts";
import type { InterfaceNames } from "../interface-names.ts";
import { printable } from "../printable.ts";
import type { SourceTally } from "../source-tally.ts";
import { CandumpLine } from "./candump-line.ts";

/** No line of the format is longer: a frame of 64 data bytes takes about 190. */
const LONGEST_LINE = 300;
const EXPECTED_LENGTH = `a line of at most ${LONGEST_LINE} bytes`;

const NEWLINE = 0x0a;
const RETURN = 0x0d;

/** `candump` writes this among the frames when the kernel's buffer overflowed. */
const DROP_NOTICE = /^DROPCOUNT: dropped (\d{1,10}) CAN frames? /;

/** A shorter frame may have been longer, and a remote frame may have had a length. */
const EIGHT_BYTES_AT_END = /#[0-9A-Fa-f]{16}( [RT])?\r?$/;

/** Text as `candump -L` writes it, cut into lines for `CandumpLine`. */
export class CandumpLines implements FrameParser {
  readonly #line: CandumpLine;
  readonly #tally: SourceTally;
  /** The beginning of a line whose end has not come yet; full means that it is too long. */
  readonly #waiting = new Uint8Array(LONGEST_LINE + 1);
  #waitingLength = 0;
  /** Lines begun so far. */
  #number = 0;

  constructor(names: InterfaceNames, tally: SourceTally) {
    this.#line = new CandumpLine(names);
    this.#tally = tally;
  }

  parse(bytes: Uint8Array, from: number, batch: FrameBatch): number {
    const lastNewline = bytes.lastIndexOf(NEWLINE);
    let at = from;
    if (this.#waitingLength > 0 && at <= lastNewline) {
      const newline = bytes.indexOf(NEWLINE, at);
      this.#wait(bytes, at, newline);
      this.#readWaiting(batch);
      at = newline + 1;
    }
    while (at <= lastNewline) {
      if (batch.full) return at;
      at = this.#read(bytes, at, batch);
    }
    this.#wait(bytes, at, bytes.length);
    return bytes.length;
  }

  /** A last line without its newline is read only if nothing but that can be missing. */
  end(batch: FrameBatch): string | undefined {
    if (this.#waitingLength === 0) return undefined;
    const line = new TextDecoder().decode(this.#waiting.subarray(0, this.#waitingLength));
    if (!EIGHT_BYTES_AT_END.test(line)) return `ends in the middle of line ${this.#number + 1}`;
    this.#readWaiting(batch);
    return undefined;
  }

  #wait(bytes: Uint8Array, from: number, to: number): void {
    const room = this.#waiting.length - this.#waitingLength;
    const part = bytes.subarray(from, Math.min(to, from + room));
    this.#waiting.set(part, this.#waitingLength);
    this.#waitingLength += part.length;
  }

  #readWaiting(batch: FrameBatch): void {
    const length = this.#waitingLength;
    this.#waitingLength = 0;
    if (length > LONGEST_LINE) {
      this.#number++;
      this.#malformed(this.#waiting);
    } else {
      this.#waiting[length] = NEWLINE;
      this.#read(this.#waiting, 0, batch);
    }
  }

  /** One line that has its newline; returns where the next one begins. */
  #read(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    this.#number++;
    const count = batch.count;
    const next = this.#line.read(bytes, at, batch);
    if (next >= 0) {
      if (batch.count > count) this.#tally.frame(batch, count);
      return next;
    }
    const newline = bytes.indexOf(NEWLINE, this.#line.failedAt);
    this.#malformed(bytes.subarray(at, bytes[newline - 1] === RETURN ? newline - 1 : newline));
    return newline + 1;
  }

  #malformed(line: Uint8Array): void {
    const found = printable(line);
    const notice = DROP_NOTICE.exec(found);
    if (notice !== null) {
      this.#tally.counts.dropped += Number(notice[1]);
      return;
    }
    const expected = line.length > LONGEST_LINE ? EXPECTED_LENGTH : this.#line.expected;
    this.#tally.malformed({ at: this.#number, found, expected });
  }
}
