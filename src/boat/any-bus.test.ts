import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { BusNames } from "../bus/bus-names.ts";
import { FRAME_BYTES, FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import { Timeline } from "../ground/timeline.ts";
import { MINUTE, SECOND } from "../ground/time.ts";
import { MessageAssembler } from "../nmea2000/assembler.ts";
import { Columns } from "../nmea2000/columns.ts";
import { DeviceList } from "../nmea2000/devices.ts";
import { identifierOf } from "../nmea2000/identifier.ts";
import { ALL_ROWS } from "../nmea2000/rows/all.ts";
import { UNKNOWN_BOAT } from "./boat.ts";
import { BoatSignals } from "./boat-signals.ts";
import { MOST_CARRIERS } from "./carriers.ts";
import { Quality, Reason } from "./quality.ts";
import { MOST_SIGNALS } from "./signal-maker.ts";

const columns = new Columns(ALL_ROWS);

function listen() {
  const busNames = new BusNames();
  busNames.numberOf("can0");
  busNames.numberOf("can1");
  const assembler = new MessageAssembler(columns);
  const devices = new DeviceList(columns);
  const timeline = new Timeline();
  const signals = new BoatSignals({ boat: UNKNOWN_BOAT, busNames, columns, devices });
  const advance = (stamp: number) => {
    const now = timeline.reach(stamp);
    while (signals.nextDue <= now) signals.runTimer();
    return now;
  };
  const feed = (batch: FrameBatch, after?: () => void) => {
    for (let i = 0; i < batch.count; i++) {
      const now = advance(batch.times[i]);
      if (!assembler.accept(batch, i, now)) continue;
      devices.take(assembler, now);
      signals.take(assembler, now);
      after?.();
    }
  };
  return { signals, feed, advance };
}

interface Frame {
  readonly pgn: number;
  readonly source: number;
  readonly bus: number;
  readonly gap: number;
  readonly bytes: Uint8Array;
}

function batchOf(frames: readonly Frame[]): FrameBatch {
  const batch = new FrameBatch(frames.length);
  let time = 1_000 * SECOND;
  for (const { pgn, source, bus, gap, bytes } of frames) {
    const frame = batch.count++;
    batch.times[frame] = time += gap;
    batch.buses[frame] = bus;
    batch.flags[frame] = FrameFlag.extended;
    batch.identifiers[frame] = identifierOf({ priority: 6, pgn, source });
    batch.lengths[frame] = bytes.length;
    batch.data.set(bytes, frame * FRAME_BYTES);
  }
  return batch;
}

const pgns = ALL_ROWS.map((row) => row.pgn).filter((pgn) => pgn !== 60928);
const frame = fc.record({
  pgn: fc.constantFrom(...pgns),
  source: fc.integer({ min: 0, max: 3 }),
  bus: fc.integer({ min: 0, max: 1 }),
  gap: fc.integer({ min: 0, max: 3 * SECOND }),
  bytes: fc.uint8Array({ maxLength: 8 }),
});

describe("whatever a bus says", () => {
  test("a value is a number unless it is bad, and bad says why", () => {
    fc.assert(fc.property(fc.array(frame, { maxLength: 300 }), (frames) => {
      const { signals, feed } = listen();
      const { table } = signals;
      feed(batchOf(frames));
      for (let signal = 0; signal < table.count; signal++) {
        const bad = table.qualities[signal] === Quality.bad;
        expect(Number.isNaN(table.values[signal])).toBe(bad);
        expect(table.reasons[signal] === Reason.none)
          .toBe(table.qualities[signal] === Quality.good);
        const { words } = table.facts[signal];
        if (words !== null && !bad) expect(table.word(signal)).toBeDefined();
      }
    }));
  });

  test("once all is quiet, every signal that can age is not heard and no timer is left", () => {
    fc.assert(fc.property(fc.array(frame, { maxLength: 300 }), (frames) => {
      const { signals, feed, advance } = listen();
      const { table } = signals;
      const batch = batchOf(frames);
      feed(batch);
      advance((batch.count === 0 ? 0 : batch.times[batch.count - 1]) + 10 * MINUTE);
      expect(signals.nextDue).toBe(Infinity);
      expect(signals.contested()).toEqual([]);
      for (let signal = 0; signal < table.count; signal++) {
        if (table.facts[signal].derived || signals.oldAgeOf(signal) === Infinity) continue;
        expect(table.reasons[signal]).toBe(Reason.notHeard);
      }
    }));
  });

  test("carried signals belong to the message just taken", () => {
    fc.assert(fc.property(fc.array(frame, { maxLength: 100 }), (frames) => {
      const { signals, feed } = listen();
      feed(batchOf(frames), () => {
        for (const signal of signals.carried()) {
          expect(signals.table.facts[signal].derived).toBe(false);
        }
      });
    }));
  });

  test("senders and instances that are made up fill no memory", () => {
    const { signals, feed } = listen();
    const frames: Frame[] = [];
    for (let source = 0; source < 250; source++) {
      for (let instance = 0; instance < 255; instance += 2) {
        const bytes = new Uint8Array(8);
        bytes[0] = instance;
        for (const pgn of [127488, 127501]) {
          frames.push({ pgn, source, bus: 0, gap: 50, bytes });
        }
      }
    }
    feed(batchOf(frames));
    expect(signals.table.carrierCount).toBeLessThanOrEqual(MOST_CARRIERS);
    expect(signals.table.count).toBeLessThanOrEqual(MOST_SIGNALS + MOST_CARRIERS);
    expect(signals.binder.overflow).toBeGreaterThan(0);
    expect(signals.binder.unbound.some(({ why }) => why === "too-many")).toBe(true);
  });
});
