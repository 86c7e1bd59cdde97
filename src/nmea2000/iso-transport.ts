import { FRAME_BYTES, type FrameBatch } from "../bus/frame-batch.ts";
import { type Micros, MILLISECOND } from "../ground/time.ts";
import { destinationOf, EVERYBODY, sourceOf } from "./identifier.ts";
import { type MessageCounts, senderOf } from "./message-counts.ts";

/** ISO 11783-3 (SAE J1939-21) transport: control and data. */
export const TRANSPORT_CONTROL = 0xec00;
export const TRANSPORT_DATA = 0xeb00;

/** First byte of a control frame that announces a message to everybody. */
export const BROADCAST = 32;
const Control = {
  requestToSend: 16,
  clearToSend: 17,
  end: 19,
  broadcast: BROADCAST,
  abort: 255,
} as const;

export const PACKET_BYTES = 7;
const MOST_PACKETS = 255;
export const MOST_TRANSPORT_BYTES = PACKET_BYTES * MOST_PACKETS;
/** Transports that can be under way at once; the oldest is pushed out. */
export const MOST_TRANSPORTS = 32;

/** T1, between two packets of a broadcast; T2 and T3, of a connection. From memory. */
export const BROADCAST_TIMEOUT = 750 * MILLISECOND;
export const CONNECTION_TIMEOUT = 1250 * MILLISECOND;

/** One transport under way: made once and used again and again. */
interface Session {
  open: boolean;
  bus: number;
  source: number;
  destination: number;
  pgn: number;
  total: number;
  /** Number of the next packet, from 1. */
  next: number;
  touched: Micros;
}

/**
 * Messages of up to 1785 bytes, said to everybody (BAM) or overheard between two devices (RTS and
 * CTS). We never answer, so a packet that only we missed is lost; one that the other side asks for
 * again is taken when it comes again. A message is complete with its last packet. A repeat of the
 * packet just received, byte for byte, is a gateway's and harmless.
 */
export class IsoTransport {
  readonly buffer = new Uint8Array(MOST_TRANSPORTS * MOST_TRANSPORT_BYTES);
  /** The completed message: where it lies in `buffer`, and what it is. */
  start = 0;
  length = 0;
  pgn = 0;

  readonly #sessions: readonly Session[] = Array.from({ length: MOST_TRANSPORTS }, () => ({
    open: false,
    bus: 0,
    source: 0,
    destination: 0,
    pgn: 0,
    total: 0,
    next: 0,
    touched: 0,
  }));

  constructor(readonly counts: MessageCounts) {}

  get openCount(): number {
    return this.#sessions.reduce((count, session) => count + (session.open ? 1 : 0), 0);
  }

  /** Takes a frame of `TRANSPORT_CONTROL`; it never completes a message. */
  control({ identifiers, buses, lengths, data }: FrameBatch, index: number, now: Micros): void {
    const bus = buses[index];
    const source = sourceOf(identifiers[index]);
    const destination = destinationOf(identifiers[index]);
    const at = index * FRAME_BYTES;
    if (lengths[index] < FRAME_BYTES) return this.counts.countMalformed(senderOf(bus, source));
    const pgn = (data[at + 5] | (data[at + 6] << 8) | (data[at + 7] << 16)) & 0x3ffff;
    switch (data[at]) {
      case Control.broadcast:
      case Control.requestToSend: {
        const total = data[at + 1] | (data[at + 2] << 8);
        const packets = data[at + 3];
        const forAll = data[at] === Control.broadcast;
        const fits = total > 0 && packets === Math.ceil(total / PACKET_BYTES);
        if (!fits || forAll !== (destination === EVERYBODY)) {
          return this.counts.countMalformed(senderOf(bus, source));
        }
        return this.#begin(bus, source, destination, pgn, total, now);
      }
      case Control.clearToSend:
        // Said by the one who listens: the transport runs the other way.
        return this.#clear(
          this.#find(bus, destination, source),
          pgn,
          data[at + 1],
          data[at + 2],
          now,
        );
      case Control.end:
        return this.#lose(this.#find(bus, destination, source));
      case Control.abort:
        for (const session of this.#sessions) {
          const there = session.source === source && session.destination === destination;
          const back = session.source === destination && session.destination === source;
          // Given up by the two themselves: nothing was lost on the way.
          if (session.bus === bus && session.pgn === pgn && (there || back)) session.open = false;
        }
    }
  }

  /** Takes a frame of `TRANSPORT_DATA`; true when it completes a message. */
  data({ identifiers, buses, lengths, data }: FrameBatch, index: number, now: Micros): boolean {
    const bus = buses[index];
    const source = sourceOf(identifiers[index]);
    const destination = destinationOf(identifiers[index]);
    const at = index * FRAME_BYTES;
    const session = this.#find(bus, source, destination);
    if (session === undefined) return false;
    if (isOverdue(session, now)) {
      this.#lose(session);
      return false;
    }
    session.touched = now;
    if (lengths[index] === 0 || data[at] !== session.next) {
      if (this.#isRepeat(session, data.subarray(at, at + lengths[index]))) {
        this.counts.countRepeated(senderOf(bus, source));
        return false;
      }
      // A broadcast has a hole; in a connection the packet may be asked for again.
      if (session.destination === EVERYBODY) this.#lose(session);
      return false;
    }
    const from = (session.next - 1) * PACKET_BYTES;
    const missing = Math.min(PACKET_BYTES, session.total - from);
    if (lengths[index] - 1 < missing) {
      session.open = false;
      this.counts.countMalformed(senderOf(bus, source));
      return false;
    }
    const start = this.#startOf(session);
    for (let i = 0; i < missing; i++) this.buffer[start + from + i] = data[at + 1 + i];
    session.next++;
    if (from + missing < session.total) return false;
    session.open = false;
    this.start = start;
    this.length = session.total;
    this.pgn = session.pgn;
    return true;
  }

  /** Gives up what waits too long. */
  expire(now: Micros): void {
    for (const session of this.#sessions) {
      if (!isOverdue(session, now)) continue;
      // Nobody answered the request to send, so nothing was sent.
      if (session.destination !== EVERYBODY && session.next === 1) session.open = false;
      else this.#lose(session);
    }
  }

  #find(bus: number, source: number, destination: number): Session | undefined {
    return this.#sessions.find((session) =>
      session.open && session.source === source && session.destination === destination &&
      session.bus === bus
    );
  }

  #begin(
    bus: number,
    source: number,
    destination: number,
    pgn: number,
    total: number,
    now: Micros,
  ): void {
    const before = this.#find(bus, source, destination);
    // Announced twice with nothing between: repeated by a gateway, or not answered yet.
    const isRepeat = before?.next === 1 && before.pgn === pgn && before.total === total;
    if (isRepeat) this.counts.countRepeated(senderOf(bus, source));
    else this.#lose(before);
    const session = before ?? this.#sessions.find(({ open }) => !open) ?? this.#pushOut();
    Object.assign(session, { open: true, bus, source, destination, pgn, total, next: 1 });
    session.touched = now;
  }

  #isRepeat(session: Session, packet: Uint8Array): boolean {
    if (session.next === 1 || packet[0] !== session.next - 1) return false;
    const from = this.#startOf(session) + (session.next - 2) * PACKET_BYTES;
    return packet.length === FRAME_BYTES &&
      packet.subarray(1).every((byte, i) => byte === this.buffer[from + i]);
  }

  #startOf(session: Session): number {
    return this.#sessions.indexOf(session) * MOST_TRANSPORT_BYTES;
  }

  /** The listener names the packet that it wants next: one again, or a later one than ours. */
  #clear(
    session: Session | undefined,
    pgn: number,
    packets: number,
    next: number,
    now: Micros,
  ): void {
    if (session === undefined) return;
    if (pgn !== session.pgn) return this.#lose(session);
    session.touched = now;
    // No packets at all: "wait".
    if (packets === 0) return;
    if (next > session.next) this.#lose(session);
    else if (next > 0) session.next = next;
  }

  #pushOut(): Session {
    const oldest = this.#sessions.reduce((a, b) => b.touched < a.touched ? b : a);
    this.#lose(oldest);
    return oldest;
  }

  #lose(session: Session | undefined): void {
    if (session === undefined || !session.open) return;
    session.open = false;
    this.counts.countLost(senderOf(session.bus, session.source));
  }
}

function isOverdue(session: Session, now: Micros): boolean {
  const timeout = session.destination === EVERYBODY ? BROADCAST_TIMEOUT : CONNECTION_TIMEOUT;
  return session.open && now - session.touched > timeout;
}
