import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";
import { type Columns, Transport } from "./columns.ts";
import { FastPacketSessions } from "./fast-packet-sessions.ts";
import { EVERYBODY } from "./identifier.ts";
import type { Message } from "./message.ts";
import { MessageCounts, senderOf } from "./message-counts.ts";

/**
 * Frames in, messages out: the hottest code of Sternfast. Per frame it makes no object and no
 * string, and where a frame is a message its bytes stay where they are, in the batch.
 */
export class MessageAssembler implements Message {
  row = -1;
  pgn = 0;
  source = 0;
  destination = EVERYBODY;
  bus = 0;
  bytes: Uint8Array;
  start = 0;
  length = 0;

  readonly counts = new MessageCounts();
  readonly #columns: Columns;
  readonly #sessions: FastPacketSessions;
  /** By row: its number among the fast packets; -1 for others. */
  readonly #fastRow: Int16Array;

  constructor(columns: Columns) {
    this.#columns = columns;
    const fast = [...columns.rows.keys()].filter((row) =>
      columns.transport[row] === Transport.fastPacket
    );
    this.#fastRow = Int16Array.from(columns.rows.keys(), (row) => fast.indexOf(row));
    this.#sessions = new FastPacketSessions(fast.map((row) => columns.rows[row]), this.counts);
    this.bytes = this.#sessions.buffer;
  }

  /**
   * Takes the frame at `index` of a batch. True when it completes a message, which this object's
   * fields then describe until the next call. Frames that carry no message (11-bit, remote, error,
   * FD) are passed over: their source counts them. A PGN without a row is taken for a single frame
   * and delivered as row -1, so that its sender counts as heard.
   *
   * @param time steady time of the frame
   */
  accept(batch: FrameBatch, index: number, time: Micros): boolean {
    if (batch.flags[index] !== FrameFlag.extended) return false;
    const identifier = batch.identifiers[index];
    const source = identifier & 0xff;
    // `pgnOf` and `destinationOf`, with their common part done once.
    let pgn = (identifier >>> 8) & 0x3ffff;
    let destination = EVERYBODY;
    if ((pgn & 0xff00) < 0xf000) {
      destination = pgn & 0xff;
      pgn &= 0x3ff00;
    }
    const bus = batch.buses[index];
    const row = this.#columns.rowOf(pgn);
    const fastRow = row < 0 ? -1 : this.#fastRow[row];
    if (fastRow < 0) {
      if (row < 0) this.counts.unknown++;
      this.bytes = batch.data;
      this.start = index * FRAME_BYTES;
      this.length = batch.lengths[index];
    } else {
      const sessions = this.#sessions;
      const lane = FastPacketSessions.laneOf(fastRow, senderOf(bus, source));
      const at = index * FRAME_BYTES;
      if (!sessions.accept(lane, destination, batch.data, at, batch.lengths[index], time)) {
        return false;
      }
      this.bytes = sessions.buffer;
      this.start = sessions.start;
      this.length = sessions.length;
    }
    this.row = row;
    this.pgn = pgn;
    this.source = source;
    this.destination = destination;
    this.bus = bus;
    return true;
  }

  /** Gives up messages whose next frame is overdue; call it now and then (each second will do). */
  expire(now: Micros): void {
    this.#sessions.expire(now);
  }

  /** Messages in the making. */
  get openSessions(): number {
    return this.#sessions.openCount;
  }
}
