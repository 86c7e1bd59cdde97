import { FRAME_BYTES, type FrameBatch } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";
import { EndedPairs } from "./ended-pairs.ts";
import {
  FAST_PACKET_TIMEOUT,
  fastPacketFrames,
  FIRST_FRAME_BYTES,
  MOST_FAST_PACKET_BYTES,
  NEXT_FRAME_BYTES,
} from "./fast-packet.ts";
import { type MessageCounts, SENDERS } from "./message-counts.ts";
import type { PgnRow } from "./row.ts";

/** Messages that can be in the making at once; the oldest is pushed out. Boats have a handful. */
export const MOST_SESSIONS = 256;
/** Bytes of one session in the buffer: a whole message and no more. */
const STRIDE = 224;
/**
 * Sequences of one sender and PGN that can be in the making at once. Sequence s has the place of
 * s - 4: where that one is still open when s begins, its end was lost, and it must not be completed
 * by frames of a later message that wears its number again.
 */
const PLACES = 4;

/**
 * Fast packets in the making, by lane (PGN, bus, source) and sequence. Frames must come in order:
 * a bus keeps the order of one sender, so another order is a hole. A repeat of the last frame,
 * byte for byte, is a gateway's and harmless.
 *
 * An open session is found by a plain index over all lanes, since only rows have lanes; sessions
 * themselves lie in a small pool, so that those at work stay in the cache.
 */
export class FastPacketSessions {
  /** Holds the completed message until the next frame is handed over. */
  readonly buffer = new Uint8Array(MOST_SESSIONS * STRIDE);
  /** Where the completed message lies in `buffer`. */
  start = 0;
  length = 0;

  /** By row among the fast packets. */
  readonly #shortest: Uint8Array;
  readonly #frames: Uint8Array;
  /** By place: session + 1; 0 none. */
  readonly #open: Uint16Array;

  /** By session: its place, -1 when free. */
  readonly #place = new Int32Array(MOST_SESSIONS).fill(-1);
  /** By session: the first byte that its next frame must have. */
  readonly #expected = new Uint8Array(MOST_SESSIONS);
  readonly #total = new Uint8Array(MOST_SESSIONS);
  readonly #received = new Uint8Array(MOST_SESSIONS);
  readonly #destination = new Uint8Array(MOST_SESSIONS);
  readonly #touched = new Float64Array(MOST_SESSIONS);
  readonly #free = Uint16Array.from({ length: MOST_SESSIONS }, (_, session) => session);
  #freeCount = MOST_SESSIONS;
  readonly #ended = new EndedPairs();

  /** @param rows those sent as fast packets; a lane's row is an index into them. */
  constructor(rows: readonly PgnRow[], readonly counts: MessageCounts) {
    this.#shortest = Uint8Array.from(rows, (row) => row.shortest ?? 1);
    this.#frames = Uint8Array.from(
      rows,
      (row) => fastPacketFrames(row.tail === undefined ? row.length : MOST_FAST_PACKET_BYTES),
    );
    this.#open = new Uint16Array(rows.length * SENDERS * PLACES);
  }

  /** The lane of a row (among the fast packets) and a sender (`senderOf`). */
  static laneOf(row: number, sender: number): number {
    return row * SENDERS + sender;
  }

  get openCount(): number {
    return MOST_SESSIONS - this.#freeCount;
  }

  /**
   * Takes the frame at `index` of a batch. True when it completes a message, which `buffer`,
   * `start` and `length` then describe.
   */
  accept(
    lane: number,
    destination: number,
    batch: FrameBatch,
    index: number,
    now: Micros,
  ): boolean {
    const { data } = batch;
    const at = index * FRAME_BYTES;
    const length = batch.lengths[index];
    if (length < 2) return this.#refuse(lane);
    const header = data[at];
    const place = lane * PLACES + ((header >> 5) % PLACES);
    const session = this.#open[place] - 1;
    if (
      session < 0 || header !== this.#expected[session] ||
      destination !== this.#destination[session] ||
      now - this.#touched[session] > FAST_PACKET_TIMEOUT
    ) {
      return (header & 31) === 0
        ? this.#begin(place, session, destination, batch, index, now)
        : this.#stray(place, session, batch, index, now);
    }
    const received = this.#received[session];
    const missing = this.#total[session] - received;
    if (length - 1 < Math.min(missing, NEXT_FRAME_BYTES)) {
      this.#release(session);
      return this.#refuse(lane);
    }
    const { buffer } = this;
    const to = session * STRIDE + received - 1;
    for (let i = 1; i <= NEXT_FRAME_BYTES; i++) buffer[to + i] = data[at + i];
    if (missing <= NEXT_FRAME_BYTES) {
      if (received === FIRST_FRAME_BYTES) this.#ended.note(place, data, at, now);
      return this.#complete(session);
    }
    this.#received[session] = received + NEXT_FRAME_BYTES;
    this.#expected[session] = header + 1;
    this.#touched[session] = now;
    return false;
  }

  /** Gives up what waits too long; to be called now and then, so that losses are counted soon. */
  expire(now: Micros): void {
    for (let session = 0; session < MOST_SESSIONS && this.openCount > 0; session++) {
      const open = this.#place[session] >= 0;
      if (open && now - this.#touched[session] > FAST_PACKET_TIMEOUT) this.#lose(session);
    }
  }

  #begin(
    place: number,
    before: number,
    destination: number,
    batch: FrameBatch,
    index: number,
    now: Micros,
  ): boolean {
    const lane = Math.floor(place / PLACES);
    if (!this.#canBegin(lane, batch, index)) return this.#refuse(lane);
    if (before >= 0) {
      // A repeat begins the same message again; anything else ends the one before.
      const isInTime = now - this.#touched[before] <= FAST_PACKET_TIMEOUT;
      if (isInTime && this.#isRepeat(before, batch, index)) {
        this.counts.countRepeated(lane % SENDERS);
        this.#release(before);
      } else this.#lose(before);
    }
    const { data } = batch;
    const at = index * FRAME_BYTES;
    const total = data[at + 1];
    const session = this.#take();
    const to = session * STRIDE;
    for (let i = 0; i < FIRST_FRAME_BYTES; i++) this.buffer[to + i] = data[at + 2 + i];
    this.#open[place] = session + 1;
    this.#place[session] = place;
    this.#expected[session] = data[at] + 1;
    this.#total[session] = total;
    this.#received[session] = FIRST_FRAME_BYTES;
    this.#destination[session] = destination;
    this.#touched[session] = now;
    return total <= FIRST_FRAME_BYTES && this.#complete(session);
  }

  /** Whether these bytes can be the first frame of a fast packet, rather than a single frame. */
  #canBegin(lane: number, { data, lengths }: FrameBatch, index: number): boolean {
    const at = index * FRAME_BYTES;
    const length = lengths[index];
    const total = data[at + 1];
    if (total < this.#shortest[Math.floor(lane / SENDERS)]) return false;
    if (total > MOST_FAST_PACKET_BYTES) return false;
    if (total > FIRST_FRAME_BYTES) return length === FRAME_BYTES;
    if (length < 2 + total) return false;
    for (let i = 2 + total; i < length; i++) if (data[at + i] !== 0xff) return false;
    return true;
  }

  /** A frame that continues nothing. */
  #stray(place: number, session: number, batch: FrameBatch, index: number, now: Micros): false {
    const lane = Math.floor(place / PLACES);
    const at = index * FRAME_BYTES;
    const number = batch.data[at] & 31;
    if (session >= 0) {
      if (this.#isRepeat(session, batch, index)) this.counts.countRepeated(lane % SENDERS);
      else this.#lose(session);
    } else if (number >= this.#frames[Math.floor(lane / SENDERS)]) {
      this.counts.countMalformed(lane % SENDERS);
    } else if (number === 1 && this.#ended.hasJustEnded(place, batch.data, at, now)) {
      this.counts.countRepeated(lane % SENDERS);
    } else if (number === 1) {
      // The first frame was lost; later frames of the same message are not counted again.
      this.counts.countLost(lane % SENDERS);
    }
    return false;
  }

  #isRepeat(session: number, { data, lengths }: FrameBatch, index: number): boolean {
    const at = index * FRAME_BYTES;
    const header = data[at];
    if (header + 1 !== this.#expected[session]) return false;
    const first = (header & 31) === 0;
    if (first && data[at + 1] !== this.#total[session]) return false;
    const skipped = first ? 2 : 1;
    const kept = session * STRIDE + this.#received[session] - (FRAME_BYTES - skipped);
    for (let i = skipped; i < lengths[index]; i++) {
      if (data[at + i] !== this.buffer[kept + i - skipped]) return false;
    }
    return true;
  }

  #complete(session: number): true {
    this.start = session * STRIDE;
    this.length = this.#total[session];
    this.#release(session);
    return true;
  }

  #take(): number {
    if (this.#freeCount === 0) this.#lose(this.#oldest());
    return this.#free[--this.#freeCount];
  }

  #oldest(): number {
    let oldest = 0;
    for (let session = 1; session < MOST_SESSIONS; session++) {
      if (this.#touched[session] < this.#touched[oldest]) oldest = session;
    }
    return oldest;
  }

  #lose(session: number): void {
    this.counts.countLost(Math.floor(this.#place[session] / PLACES) % SENDERS);
    this.#release(session);
  }

  #release(session: number): void {
    this.#open[this.#place[session]] = 0;
    this.#place[session] = -1;
    this.#free[this.#freeCount++] = session;
  }

  #refuse(lane: number): false {
    this.counts.countMalformed(lane % SENDERS);
    return false;
  }
}
