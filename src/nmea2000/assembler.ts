/**
 * Frames become messages, and messages become values, by tables: no line of code knows a PGN's
 * layout.
 *
 * - `rows/`: every message as a row of data; `Columns`: the rows flattened for the hot path
 * - `MessageAssembler`: frames in, messages out (`FastPacketSessions`, `IsoTransport`)
 * - `readRaw`, `statusOf`: one field of a message; `decodeMessage`: all of them, as an object
 * - `encodeMessage`, `FrameWriter`: the same rows the other way
 * - `DeviceList`: who says it
 *
 * Order of calls, once a frame: `assembler.accept`, and when it is true `devices.take` and the
 * reader's own loop over the columns; `assembler.expire` now and then.
 */
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";
import { type Columns, Transport } from "./columns.ts";
import { FastPacketSessions } from "./fast-packet-sessions.ts";
import { EVERYBODY, sourceOf } from "./identifier.ts";
import { IsoTransport, TRANSPORT_CONTROL, TRANSPORT_DATA } from "./iso-transport.ts";
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
  readonly #transport = new IsoTransport(this.counts);
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
    const source = sourceOf(identifier);
    // `pgnOf` and `destinationOf`, with their common part done once.
    let pgn = (identifier >>> 8) & 0x3ffff;
    let destination = EVERYBODY;
    if ((pgn & 0xff00) < 0xf000) {
      destination = pgn & 0xff;
      pgn &= 0x3ff00;
    }
    const bus = batch.buses[index];
    const row = this.#columns.rowOf(pgn);
    if (row < 0) return this.#withoutRow(batch, index, time, pgn, destination);
    const fastRow = this.#fastRow[row];
    if (fastRow < 0) {
      this.bytes = batch.data;
      this.start = index * FRAME_BYTES;
      this.length = batch.lengths[index];
    } else {
      const sessions = this.#sessions;
      const lane = FastPacketSessions.laneOf(fastRow, senderOf(bus, source));
      if (!sessions.accept(lane, destination, batch, index, time)) return false;
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

  /** Transport frames have no row of their own: the message in them may have one. */
  #withoutRow(
    batch: FrameBatch,
    index: number,
    time: Micros,
    pgn: number,
    destination: number,
  ): boolean {
    const transport = this.#transport;
    if (pgn === TRANSPORT_CONTROL) {
      transport.control(batch, index, time);
      return false;
    }
    if (pgn === TRANSPORT_DATA) {
      if (!transport.data(batch, index, time)) return false;
      this.pgn = transport.pgn;
      this.bytes = transport.buffer;
      this.start = transport.start;
      this.length = transport.length;
    } else {
      this.pgn = pgn;
      this.bytes = batch.data;
      this.start = index * FRAME_BYTES;
      this.length = batch.lengths[index];
    }
    this.row = this.#columns.rowOf(this.pgn);
    if (this.row < 0) this.counts.unknown++;
    this.source = sourceOf(batch.identifiers[index]);
    this.destination = destination;
    this.bus = batch.buses[index];
    return true;
  }

  /**
   * Gives up messages whose next frame is overdue; call it now and then (each second will do), and
   * with Infinity where the source says that it lost frames: packets of a transport bear no message's
   * name, so that the rest of a later one could end an earlier one.
   */
  expire(now: Micros): void {
    this.#sessions.expire(now);
    this.#transport.expire(now);
  }

  /** Messages in the making. */
  get openSessions(): number {
    return this.#sessions.openCount + this.#transport.openCount;
  }
}
