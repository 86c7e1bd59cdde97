import { FRAME_BYTES, FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import { type Micros, MILLISECOND } from "../../src/ground/time.ts";
import type { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { type Columns, Transport } from "../../src/nmea2000/columns.ts";
import { decodeMessage } from "../../src/nmea2000/decode-message.ts";
import type { DeviceList } from "../../src/nmea2000/devices.ts";
import { FrameWriter } from "../../src/nmea2000/frame-writer.ts";
import { decodeGroups } from "../../src/nmea2000/groups.ts";
import type { PgnRow } from "../../src/nmea2000/row.ts";
import { pgnOf } from "../../src/nmea2000/identifier.ts";
import { TRANSPORT_CONTROL } from "../../src/nmea2000/iso-transport.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { troubleCodesOf } from "../../src/nmea2000/trouble-codes.ts";

/**
 * Random numbers that are the same each time, fast enough for millions of frames: a linear
 * congruential generator with the constants of "Numerical Recipes".
 */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** A whole number from 0 to below `limit`. */
  below(limit: number): number {
    this.#state = (Math.imul(this.#state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((this.#state / 2 ** 32) * limit);
  }

  oneIn(count: number): boolean {
    return this.below(count) === 0;
  }
}

/** PGNs with rows, those that carry transports, and makers' own. */
const PGNS = [...ALL_ROWS.map((row) => row.pgn), 0xec00, 0xeb00, 0xec00, 0xeb00, 0x1ff01, 0xff05];

/** Fills a batch with frames that no bus ever carried, most of them near to what one could. */
export function fillAtRandom(batch: FrameBatch, chance: Chance, from: Micros): void {
  for (let i = 0; i < batch.capacity; i++) {
    const pgn = chance.oneIn(4) ? chance.below(1 << 18) : PGNS[chance.below(PGNS.length)];
    const isAddressed = (pgn & 0xff00) < 0xf000;
    const destination = isAddressed ? [255, 3, 7][chance.below(3)] : 0;
    const identifier = ((chance.below(8) << 26) | (pgn << 8) | (destination << 8)) >>> 0;
    batch.times[i] = from + i * MILLISECOND;
    batch.buses[i] = chance.below(3);
    batch.flags[i] = chance.oneIn(20) ? chance.below(16) : FrameFlag.extended;
    batch.identifiers[i] = identifier | chance.below(chance.oneIn(2) ? 4 : 256);
    batch.lengths[i] = chance.oneIn(4) ? chance.below(9) : FRAME_BYTES;
    for (let byte = 0; byte < FRAME_BYTES; byte++) {
      batch.data[i * FRAME_BYTES + byte] = chance.oneIn(3) ? chance.below(40) : chance.below(256);
    }
    // Control frames that could be meant.
    if (pgn === 0xec00) batch.data[i * FRAME_BYTES] = [16, 17, 19, 32, 255][chance.below(5)];
  }
  batch.count = batch.capacity;
}

/** Reads everything in a message, whatever it is. */
export function readAll(columns: Columns, message: MessageAssembler): void {
  const { row, bytes, start, length } = message;
  if (start < 0 || length < 0 || start + length > bytes.length) {
    throw new Error(`a message of ${length} bytes at ${start} of ${bytes.length}`);
  }
  if (row < 0) return;
  const groups = decodeGroups(columns, row, bytes, start, length);
  for (const fields of [decodeMessage(columns, row, bytes, start, length), ...groups]) {
    for (const [name, { value }] of Object.entries(fields)) {
      if (typeof value === "number" && !Number.isFinite(value)) {
        throw new Error(`${name}: ${value}`);
      }
    }
  }
  troubleCodesOf(columns, row, bytes, start, length);
}

/** Everything that random frames could make grow. */
export function sizesOf(assembler: MessageAssembler, devices: DeviceList, now: Micros) {
  return {
    sessions: assembler.openSessions,
    devices: [...devices.devices].length,
    unknown: devices.unknown.list.length,
    conflicts: devices.conflicts(now).length,
  };
}

/** Messages of more than one frame whose bytes tell which message they belong to. */
export class TaggedTalk {
  readonly #writer = new FrameWriter();
  readonly #rows: readonly PgnRow[];
  #serial = 0;

  constructor(columns: Columns) {
    this.#rows = ALL_ROWS.filter(({ pgn }) =>
      columns.transport[columns.rowOf(pgn)] !== Transport.single
    );
  }

  /** One message of each row from each of `sources`, frame by frame in turns. */
  round(sources: readonly number[], chance: Chance, time: Micros): FrameBatch {
    const streams = sources.map((source) => {
      const batch = new FrameBatch(4096);
      for (const row of this.#rows) {
        const most = row.transport === "iso-transport" ? 300 : 223;
        const length = Math.max(row.shortest ?? 1, 9 + chance.below(most - 9));
        const bytes = taggedBytes(source, row.pgn, this.#serial++, length);
        this.#writer.writeBytes(batch, row, bytes, { bus: 0, source, time });
      }
      return batch;
    });
    const mixed = new FrameBatch(streams.reduce((sum, { count }) => sum + count, 0));
    for (let frame = 0; mixed.count < mixed.capacity; frame++) {
      for (const stream of streams) if (frame < stream.count) copyFrame(stream, frame, mixed);
    }
    return mixed;
  }
}

/** The bytes of a message by its sender, PGN and number, which is in its first four bytes. */
export function taggedBytes(
  source: number,
  pgn: number,
  serial: number,
  length: number,
): Uint8Array {
  const chance = new Chance(((source << 24) ^ (pgn << 4) ^ serial) | 0);
  const bytes = Uint8Array.from({ length }, () => chance.below(256));
  new DataView(bytes.buffer).setUint32(0, serial, true);
  return bytes;
}

/**
 * What a recording of these frames can have lost, repeated or cut. Announcements of transports stay:
 * packets bear no message's name, so that a hole from the middle of one to the middle of the next
 * cannot be told from none.
 */
export function damage(batch: FrameBatch, chance: Chance): FrameBatch {
  const damaged = new FrameBatch(batch.count * 2);
  let hole = 0;
  for (let frame = 0; frame < batch.count; frame++) {
    if (chance.oneIn(400)) hole = chance.below(300);
    if (!isAnnouncement(batch, frame) && (hole-- > 0 || chance.oneIn(30))) continue;
    copyFrame(batch, frame, damaged);
    if (chance.oneIn(30)) copyFrame(batch, frame, damaged);
    if (!isAnnouncement(batch, frame) && chance.oneIn(100)) {
      damaged.lengths[damaged.count - 1] = chance.below(9);
    }
  }
  return damaged;
}

function isAnnouncement({ identifiers }: FrameBatch, frame: number): boolean {
  return (pgnOf(identifiers[frame]) & 0x3ff00) === TRANSPORT_CONTROL;
}

function copyFrame(from: FrameBatch, frame: number, to: FrameBatch): void {
  const at = to.count++;
  to.times[at] = from.times[frame];
  to.buses[at] = from.buses[frame];
  to.flags[at] = from.flags[frame];
  to.identifiers[at] = from.identifiers[frame];
  to.lengths[at] = from.lengths[frame];
  const start = frame * FRAME_BYTES;
  to.data.set(from.data.subarray(start, start + FRAME_BYTES), at * FRAME_BYTES);
}
