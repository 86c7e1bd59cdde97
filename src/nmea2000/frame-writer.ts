import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";
import { encodeMessage, type WireValues } from "./encode.ts";
import {
  fastPacketFrames,
  FIRST_FRAME_BYTES,
  MOST_FAST_PACKET_BYTES,
  NEXT_FRAME_BYTES,
  SEQUENCES,
} from "./fast-packet.ts";
import { EVERYBODY, identifierOf } from "./identifier.ts";
import {
  BROADCAST,
  MOST_TRANSPORT_BYTES,
  PACKET_BYTES,
  TRANSPORT_CONTROL,
  TRANSPORT_DATA,
} from "./iso-transport.ts";
import type { PgnRow } from "./row.ts";

/** Priority of a message whose row gives none: "information" (SAE J1939-21). */
const USUAL_PRIORITY = 6;

/** Who says a message, to whom, when. */
export interface Envelope {
  readonly bus: number;
  readonly source: number;
  /** Only where the PGN is addressed; everybody when not given. */
  readonly destination?: number;
  /** The row's own when not given. */
  readonly priority?: number;
  readonly time: Micros;
}

/**
 * Messages in, frames out: appended to a batch, all with the message's time. It keeps the sequence
 * counters of the fast packets that it writes. A long message of an engine is a broadcast in
 * packets: to one device alone it could be sent only with that device's consent.
 */
export class FrameWriter {
  /** By bus, PGN and source: the sequence counter of its last fast packet. */
  readonly #sequences = new Map<number, number>();

  /**
   * Encodes a message by its row and appends its frames. False, with nothing appended, when the
   * batch has no room for all of them.
   *
   * @throws {RangeError} as `encodeMessage` and `identifierOf` do.
   */
  write(
    batch: FrameBatch,
    row: PgnRow,
    values: WireValues,
    envelope: Envelope,
    groups: readonly WireValues[] = [],
  ): boolean {
    return this.writeBytes(batch, row, encodeMessage(row, values, groups), envelope);
  }

  /** Appends the frames of a message that is already bytes; otherwise as `write`. */
  writeBytes(batch: FrameBatch, row: PgnRow, bytes: Uint8Array, envelope: Envelope): boolean {
    const { pgn, transport } = row;
    const { source, destination, priority = row.priority ?? USUAL_PRIORITY } = envelope;
    const identifier = identifierOf({ priority, pgn, source, destination });
    if (transport === "fast-packet") {
      return this.#writeFastPacket(batch, pgn, identifier, bytes, envelope);
    }
    if (transport === "iso-transport" && bytes.length > FRAME_BYTES) {
      return this.#writeBroadcast(batch, pgn, priority, bytes, envelope);
    }
    if (bytes.length > FRAME_BYTES) {
      throw new RangeError(`PGN ${pgn} has ${bytes.length} bytes, a frame holds ${FRAME_BYTES}`);
    }
    if (batch.full) return false;
    // SAE J1939 fills a frame; a transport of 8 bytes or fewer is one.
    const length = transport === "iso-transport" ? FRAME_BYTES : bytes.length;
    const at = begin(batch, identifier, length, envelope);
    batch.data.fill(0xff, at, at + FRAME_BYTES).set(bytes, at);
    return true;
  }

  #writeBroadcast(
    batch: FrameBatch,
    pgn: number,
    priority: number,
    bytes: Uint8Array,
    envelope: Envelope,
  ): boolean {
    const { source, destination = EVERYBODY } = envelope;
    if (bytes.length > MOST_TRANSPORT_BYTES || destination !== EVERYBODY) {
      throw new RangeError(
        `PGN ${pgn} has ${bytes.length} bytes, expected at most ${MOST_TRANSPORT_BYTES}, to all`,
      );
    }
    const packets = Math.ceil(bytes.length / PACKET_BYTES);
    if (batch.count + 1 + packets > batch.capacity) return false;
    const identifiers = [TRANSPORT_CONTROL, TRANSPORT_DATA].map((carrier) =>
      identifierOf({ priority, pgn: carrier, source, destination })
    );
    const length = [bytes.length & 0xff, bytes.length >> 8];
    const wanted = [pgn & 0xff, (pgn >> 8) & 0xff, pgn >> 16];
    const control = begin(batch, identifiers[0], FRAME_BYTES, envelope);
    batch.data.set([BROADCAST, ...length, packets, 0xff, ...wanted], control);
    for (let packet = 0; packet < packets; packet++) {
      const from = packet * PACKET_BYTES;
      const at = begin(batch, identifiers[1], FRAME_BYTES, envelope);
      batch.data.fill(0xff, at, at + FRAME_BYTES);
      batch.data[at] = packet + 1;
      batch.data.set(bytes.subarray(from, from + PACKET_BYTES), at + 1);
    }
    return true;
  }

  #writeFastPacket(
    batch: FrameBatch,
    pgn: number,
    identifier: number,
    bytes: Uint8Array,
    envelope: Envelope,
  ): boolean {
    if (bytes.length > MOST_FAST_PACKET_BYTES) {
      throw new RangeError(
        `PGN ${pgn} has ${bytes.length} bytes, a fast packet holds ${MOST_FAST_PACKET_BYTES}`,
      );
    }
    const frames = fastPacketFrames(bytes.length);
    if (batch.count + frames > batch.capacity) return false;
    const sequence = this.#nextSequence(pgn, envelope);
    for (let index = 0, from = 0; index < frames; index++) {
      const at = begin(batch, identifier, FRAME_BYTES, envelope);
      batch.data.fill(0xff, at, at + FRAME_BYTES);
      batch.data[at] = (sequence << 5) | index;
      if (index === 0) batch.data[at + 1] = bytes.length;
      const room = index === 0 ? FIRST_FRAME_BYTES : NEXT_FRAME_BYTES;
      batch.data.set(bytes.subarray(from, from + room), at + FRAME_BYTES - room);
      from += room;
    }
    return true;
  }

  #nextSequence(pgn: number, { bus, source }: Envelope): number {
    const key = (bus * 2 ** 18 + pgn) * 256 + source;
    const sequence = ((this.#sequences.get(key) ?? -1) + 1) % SEQUENCES;
    this.#sequences.set(key, sequence);
    return sequence;
  }
}

/** Appends a frame without its data, which go to the returned place. */
function begin(
  batch: FrameBatch,
  identifier: number,
  length: number,
  { bus, time }: Envelope,
): number {
  const frame = batch.count++;
  batch.times[frame] = time;
  batch.buses[frame] = bus;
  batch.flags[frame] = FrameFlag.extended;
  batch.identifiers[frame] = identifier;
  batch.lengths[frame] = length;
  return frame * FRAME_BYTES;
}
