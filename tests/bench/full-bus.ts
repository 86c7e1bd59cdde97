import { BusNames } from "../../src/bus/bus-names.ts";
import { FRAME_BYTES, FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";
import { type Micros, MILLISECOND, SECOND } from "../../src/ground/time.ts";
import type { WireValue } from "../../src/nmea2000/encode.ts";
import { FrameWriter } from "../../src/nmea2000/frame-writer.ts";
import { identifierOf } from "../../src/nmea2000/identifier.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

/**
 * A log of a bus that is as full as it can be: 50 devices, which is what NMEA 2000 allows, and about
 * 1,800 frames a second, which is what 250 kbit/s carry. So that they fill it, most speak at twice
 * their usual rate. A third of the frames are parts of fast packets, which interleave; a tenth are
 * proprietary, of which nothing is known. Values move like real ones, so that some
 * fields change with each message and others hardly ever do. The same each time.
 */
export interface FullBus {
  readonly batches: readonly FrameBatch[];
  readonly buses: BusNames;
  readonly frames: number;
  readonly seconds: number;
  /** Share of the frames that are parts of fast packets. */
  readonly fastShare: number;
  readonly sources: number;
}

const START: Micros = 1_781_431_200 * SECOND;
const BATCH = 1024;

type Values = Readonly<Record<string, WireValue>>;

interface Talk {
  readonly pgn: number;
  readonly source: number;
  readonly period: Micros;
  /** Absent: proprietary, eight bytes of anything. */
  readonly values?: (at: Micros) => Values;
  due: Micros;
}

export function fullBus(frames: number): FullBus {
  const random = randomNumbers(7);
  const talks = allTalks(random);
  const rows = new Map(ALL_ROWS.map((row) => [row.pgn, row]));
  const writer = new FrameWriter();
  // One message more than asked for may begin before the end.
  const all = new FrameBatch(frames + 32);
  let fast = 0;
  while (all.count < frames) {
    const talk = talks.reduce((first, other) => other.due < first.due ? other : first);
    const first = all.count;
    const row = rows.get(talk.pgn);
    if (row === undefined || talk.values === undefined) {
      writeUnknown(all, talk, random);
    } else {
      writer.write(all, row, talk.values(talk.due), {
        bus: 0,
        source: talk.source,
        time: talk.due,
      });
      for (let frame = first; frame < all.count; frame++) {
        all.times[frame] += (frame - first) * MILLISECOND;
      }
      if (row.transport === "fast-packet") fast += all.count - first;
    }
    talk.due += talk.period + Math.round((random() - 0.5) * 0.02 * talk.period);
  }
  const buses = new BusNames();
  buses.numberOf("can0");
  const seconds = (Math.max(...talks.map((talk) => talk.due)) - START) / SECOND;
  const sources = new Set(talks.map((talk) => talk.source)).size;
  return {
    batches: inOrder(all, frames),
    buses,
    frames,
    seconds,
    fastShare: fast / frames,
    sources,
  };
}

/** The same as the lines of a `candump -L` recording. */
export function asCandump({ batches, buses, frames }: FullBus): Uint8Array {
  const writer = new CandumpWriter(buses);
  const text = new Uint8Array(frames * 64);
  let length = 0;
  for (const batch of batches) {
    const lines = writer.lines(batch);
    text.set(lines, length);
    length += lines.length;
  }
  return text.subarray(0, length);
}

function allTalks(random: () => number): Talk[] {
  const talks: Talk[] = [];
  const talk = (pgn: number, source: number, period: Micros, values?: Talk["values"]) => {
    talks.push({ pgn, source, period, values, due: START + Math.floor(random() * period) });
  };
  const around = (middle: number, noise: number) => middle + (random() - 0.5) * 2 * noise;
  for (let engine = 0; engine < 32; engine++) {
    const idle = 600 + engine * 60;
    talk(127488, engine, 50 * MILLISECOND, () => ({
      instance: engine,
      speed: around(idle, 3),
      trim: 0,
    }));
    talk(127489, engine, 250 * MILLISECOND, (at) => ({
      "instance": engine,
      "oil-pressure": Math.round(around(350, 4)) * 1000,
      "oil-temperature": around(360, 0.2),
      "coolant-temperature": around(353, 0.05),
      "alternator-voltage": around(14, 0.02),
      "fuel-rate": around(12, 0.2),
      "hours": 3_600_000 + Math.floor((at - START) / SECOND),
      "status-1": [],
      "status-2": [],
      "load": Math.round(around(40, 1)),
    }));
  }
  for (let unit = 0; unit < 8; unit++) {
    const source = 40 + unit;
    talk(127506, source, 500 * MILLISECOND, () => ({
      "instance": unit,
      "type": "battery",
      "state-of-charge": 80,
      "ripple-voltage": around(0.1, 0.02),
    }));
    talk(127507, source, 500 * MILLISECOND, () => ({
      "instance": unit,
      "operating-state": "float",
      "charge-mode": "standalone",
      "enabled": "on",
    }));
    talk(127508, source, 500 * MILLISECOND, () => ({
      instance: unit,
      voltage: around(12.8, 0.02),
      current: around(-5, 0.3),
      temperature: 293.15,
    }));
    talk(127505, source, 500 * MILLISECOND, () => ({
      instance: unit,
      fluid: "fuel",
      level: around(60, 0.1),
      capacity: 400,
    }));
  }
  for (let mast = 0; mast < 6; mast++) {
    const source = 50 + mast;
    talk(129025, source, 100 * MILLISECOND, () => ({
      latitude: around(50.4, 1e-6),
      longitude: around(-7.9, 1e-6),
    }));
    talk(129026, source, 250 * MILLISECOND, () => ({
      "course-reference": "true",
      "course-over-ground": around(1, 0.01),
      "speed-over-ground": around(3, 0.05),
    }));
    talk(130306, source, 100 * MILLISECOND, () => ({
      "wind-reference": "apparent",
      "wind-speed": around(8, 0.5),
      "wind-angle": around(1, 0.05),
    }));
    talk(128267, source, SECOND, () => ({ depth: around(12, 0.1), offset: 0.3 }));
    talk(65280, source, 40 * MILLISECOND);
    talk(65281, source, 50 * MILLISECOND);
  }
  for (let bank = 0; bank < 4; bank++) {
    talk(127501, 60 + bank, SECOND, () => ({
      "instance": bank,
      "indicator-1": random() < 0.02 ? "on" : "off",
      "indicator-2": "off",
      "indicator-3": "on",
    }));
  }
  return talks;
}

function writeUnknown(batch: FrameBatch, talk: Talk, random: () => number): void {
  const frame = batch.count++;
  batch.times[frame] = talk.due;
  batch.flags[frame] = FrameFlag.extended;
  batch.identifiers[frame] = identifierOf({ priority: 2, pgn: talk.pgn, source: talk.source });
  batch.lengths[frame] = FRAME_BYTES;
  for (let i = 0; i < FRAME_BYTES; i++) {
    batch.data[frame * FRAME_BYTES + i] = Math.floor(random() * 256);
  }
}

/** Cut into batches, in the order of their times: fast packets of several sources interleave. */
function inOrder(all: FrameBatch, frames: number): FrameBatch[] {
  const order = Uint32Array.from({ length: all.count }, (_, frame) => frame)
    .sort((a, b) => all.times[a] - all.times[b] || a - b);
  const batches: FrameBatch[] = [];
  for (let from = 0; from < frames; from += BATCH) {
    const batch = new FrameBatch(Math.min(BATCH, frames - from));
    for (const frame of order.subarray(from, from + batch.capacity)) {
      const to = batch.count++;
      batch.times[to] = all.times[frame];
      batch.flags[to] = all.flags[frame];
      batch.identifiers[to] = all.identifiers[frame];
      batch.lengths[to] = all.lengths[frame];
      const at = frame * FRAME_BYTES;
      batch.data.set(all.data.subarray(at, at + FRAME_BYTES), to * FRAME_BYTES);
    }
    batches.push(batch);
  }
  return batches;
}

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain). */
function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
