import { type Micros, MILLISECOND, MINUTE } from "../../../ground/time.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../../frame-batch.ts";
import type { FrameParser } from "../../frame-parser.ts";
import { printable } from "../../printable.ts";
import type { SourceEvent } from "../../source-event.ts";
import type { SourceTally } from "../../source-tally.ts";
import { ControllerNews } from "../controller-news.ts";
import { AdapterTime } from "./adapter-time.ts";
import { beginsFrame, LONGEST_LINE, NO_STAMP, readFrameLine } from "./frame-line.ts";
import { readErrorLine, type Report, StateLines, StatusAnswers } from "./status-reports.ts";

const RETURN = 0x0d;
const NEWLINE = 0x0a;
/** Ends the answer to a command that the adapter refuses. */
const BELL = 0x07;

const MINUTE_OF_MILLISECONDS = MINUTE / MILLISECOND;
const EXPECTED = "a frame such as T18FF000120102, or a status line, then a carriage return";
/** Answers to commands: empty, a version (V, v), a serial number (N), a frame sent (z, Z). */
const ANSWER = /^([zZ]?|[VvN][0-9A-Za-z]{0,8})$/;

export interface SlcanParts {
  readonly tally: SourceTally;
  /** Number of the bus at this adapter. */
  readonly bus: number;
  /** The time now: what an adapter's own stamps are set against. */
  readonly arrival: () => Micros;
  readonly told?: (event: SourceEvent) => void;
}

/**
 * Lines of a serial CAN adapter, as Linux's slcan driver reads them; its status lines become the
 * error frames that the driver makes of them. Whatever is garbage ends at the next carriage return.
 */
export class SlcanLines implements FrameParser {
  readonly #parts: SlcanParts;
  readonly #time = new AdapterTime();
  /** The line so far; one byte more than a line may have means that it is too long. */
  readonly #line = new Uint8Array(LONGEST_LINE + 1);
  #length = 0;
  #number = 1;
  #states = new StateLines();
  #status = new StatusAnswers();
  #news: ControllerNews;

  constructor(parts: SlcanParts) {
    this.#parts = parts;
    this.#news = new ControllerNews(parts.told);
  }

  parse(bytes: Uint8Array, from: number, batch: FrameBatch): number {
    for (let at = from; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte === RETURN || byte === BELL || byte === NEWLINE) {
        if (batch.full) return at;
        this.#take(batch);
        this.#length = 0;
        this.#number++;
      } else if (this.#length <= LONGEST_LINE) {
        this.#line[this.#length++] = byte;
      }
    }
    return bytes.length;
  }

  /** A serial line has no end; a cut line is nothing to speak of. */
  end(): string | undefined {
    return undefined;
  }

  /** Our own clock was set: the adapter's lies otherwise to it now. */
  clockWasSet(): void {
    this.#time.forget();
  }

  /** A controller that was just opened has met no error, and counts from any time. */
  adapterWasOpened(): void {
    this.#time.forget();
    this.#states = new StateLines();
    this.#status = new StatusAnswers();
    this.#news = new ControllerNews(this.#parts.told);
  }

  #take(batch: FrameBatch): void {
    const length = this.#length;
    if (length === 0) return;
    if (length <= LONGEST_LINE && (this.#frame(length, batch) || this.#report(length, batch))) {
      return;
    }
    const found = printable(this.#line.subarray(0, length));
    this.#parts.tally.malformed({ at: this.#number, found, expected: EXPECTED });
  }

  #frame(length: number, batch: FrameBatch): boolean {
    if (!beginsFrame(this.#line[0])) return false;
    const stamp = readFrameLine(this.#line, length, batch);
    if (stamp === undefined) return false;
    const arrival = this.#parts.arrival();
    // Some adapters count further than a minute: then only the arrival is known.
    const stamped = stamp !== NO_STAMP && stamp < MINUTE_OF_MILLISECONDS;
    this.#count(batch, stamped ? this.#time.stamp(stamp, arrival) : arrival);
    return true;
  }

  #report(length: number, batch: FrameBatch): boolean {
    const line = new TextDecoder().decode(this.#line.subarray(0, length));
    const report = this.#states.read(line) ?? this.#status.read(line) ?? readErrorLine(line);
    if (report === undefined) return ANSWER.test(line);
    if (report !== "unchanged") this.#error(report, batch);
    return true;
  }

  #error({ identifier, data, lost }: Report, batch: FrameBatch): void {
    const index = batch.count;
    batch.flags[index] = FrameFlag.error;
    batch.identifiers[index] = identifier;
    batch.lengths[index] = FRAME_BYTES;
    batch.data.set(data, index * FRAME_BYTES);
    // How many it lost it does not say: at least one.
    if (lost) this.#parts.tally.counts.dropped++;
    this.#news.take(batch, index);
    this.#count(batch, this.#parts.arrival());
  }

  #count(batch: FrameBatch, time: Micros): void {
    const index = batch.count++;
    batch.times[index] = time;
    batch.buses[index] = this.#parts.bus;
    this.#parts.tally.frame(batch, index);
  }
}
