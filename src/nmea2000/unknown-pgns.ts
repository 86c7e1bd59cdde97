import { type Micros, SECOND } from "../ground/time.ts";
import type { Message } from "./message.ts";
import { senderOf } from "./message-counts.ts";

/** PGNs of senders that are kept apart; a boat has a few dozen. */
export const MOST_UNKNOWN = 512;

/** What one sender says under a PGN that no row describes. */
export interface UnknownPgn {
  readonly bus: number;
  readonly source: number;
  readonly pgn: number;
  /** Given by each maker as it likes: see `manufacturerCode`. */
  readonly isProprietary: boolean;
  /** As the message's own first bytes say it, where it is a marine maker's; null otherwise. */
  readonly manufacturerCode: number | null;
  /** Frames, or messages where they came in packets. */
  readonly count: number;
  readonly firstHeard: Micros;
  readonly lastHeard: Micros;
  /** In hertz, since it was first heard; null for one alone. */
  readonly rate: number | null;
  /** The first bytes of a late one. */
  readonly sample: Uint8Array;
}

interface Entry {
  readonly bus: number;
  readonly source: number;
  readonly pgn: number;
  readonly isProprietary: boolean;
  manufacturerCode: number | null;
  readonly firstHeard: Micros;
  readonly sample: Uint8Array;
  /** Bytes of the sample. */
  sampled: number;
}

const SAMPLE_BYTES = 8;
const SAMPLE_EACH: Micros = SECOND;
/** Industry group of boats, in the NAME as in a proprietary message. */
const MARINE = 4;

/**
 * Counts of the messages that no row describes, by bus, sender and PGN. Rare on most buses: only
 * messages of row -1 come here.
 */
export class UnknownPgns {
  /** Messages that found no place of their own. */
  overflow = 0;
  readonly #entries: Entry[] = [];
  readonly #places = new Map<number, number>();
  /** By entry: what each message changes. */
  readonly #counts = new Float64Array(MOST_UNKNOWN);
  readonly #lastHeard = new Float64Array(MOST_UNKNOWN);
  /** By entry: when the next sample is taken. */
  readonly #nextSample = new Float64Array(MOST_UNKNOWN);

  /** Takes a message of row -1; to be called before the next frame. */
  take(message: Message, now: Micros): void {
    const { bus, source, pgn } = message;
    // 30 bits: a small integer, which a Map finds without making a number of it first.
    const key = (senderOf(bus, source) << 18) | pgn;
    const at = this.#places.get(key) ?? this.#meet(key, message, now);
    if (at < 0) return;
    this.#counts[at]++;
    this.#lastHeard[at] = now;
    if (now >= this.#nextSample[at]) this.#sample(at, message, now);
  }

  /** In the order in which they were first heard. */
  get list(): UnknownPgn[] {
    return this.#entries.map(({ sampled, sample, ...entry }, at) => {
      const heard = { count: this.#counts[at], lastHeard: this.#lastHeard[at] };
      const rate = rateOf({ ...heard, firstHeard: entry.firstHeard });
      return { ...entry, ...heard, rate, sample: sample.slice(0, sampled) };
    });
  }

  /** The place of a new entry; -1 where there is none left. */
  #meet(key: number, { bus, source, pgn }: Message, now: Micros): number {
    const at = this.#entries.length;
    if (at === MOST_UNKNOWN) {
      this.overflow++;
      return -1;
    }
    this.#places.set(key, at);
    this.#entries.push({
      bus,
      source,
      pgn,
      isProprietary: isProprietary(pgn),
      manufacturerCode: null,
      firstHeard: now,
      sample: new Uint8Array(SAMPLE_BYTES),
      sampled: 0,
    });
    return at;
  }

  /** Until its maker is known each message is looked at, then one a second. */
  #sample(at: number, message: Message, now: Micros): void {
    const entry = this.#entries[at];
    sample(entry, message);
    if (entry.isProprietary) entry.manufacturerCode ??= manufacturerCodeOf(message);
    this.#nextSample[at] = now + SAMPLE_EACH;
  }
}

function sample(entry: Entry, { bytes, start, length }: Message): void {
  entry.sampled = Math.min(length, SAMPLE_BYTES);
  for (let i = 0; i < entry.sampled; i++) entry.sample[i] = bytes[start + i];
}

type Heard = Pick<UnknownPgn, "count" | "firstHeard" | "lastHeard">;

function rateOf({ count, firstHeard, lastHeard }: Heard): number | null {
  if (count < 2 || lastHeard <= firstHeard) return null;
  return ((count - 1) * SECOND) / (lastHeard - firstHeard);
}

const isSingleProprietary = (pgn: number) => pgn === 0xef00 || (pgn >= 0xff00 && pgn <= 0xffff);
/** Sent as fast packets; without a row they are counted by their frames. */
export const isFastProprietary = (pgn: number) =>
  pgn === 0x1ef00 || (pgn >= 0x1ff00 && pgn <= 0x1ffff);

/** PGNs 61184, 65280 to 65535, 126720, 130816 to 131071. */
export function isProprietary(pgn: number): boolean {
  return isSingleProprietary(pgn) || isFastProprietary(pgn);
}

/**
 * Eleven bits at the beginning of a marine maker's message, two reserved, and the industry group. In
 * frames of a fast packet they come after its number and length, in the first frame alone.
 */
function manufacturerCodeOf({ pgn, bytes, start, length }: Message): number | null {
  let at = start;
  if (isFastProprietary(pgn)) {
    if ((bytes[start] & 31) !== 0) return null;
    at += 2;
  } else if (!isSingleProprietary(pgn)) return null;
  if (at + 2 > start + length) return null;
  const word = bytes[at] | (bytes[at + 1] << 8);
  return word >> 13 === MARINE ? word & 0x7ff : null;
}
