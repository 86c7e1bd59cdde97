import { deepStrictEqual, ok, strictEqual } from "node:assert/strict";
import { BusNames } from "../../src/bus/bus-names.ts";
import { type ErrorKind, errorKinds } from "../../src/bus/error-kinds.ts";
import { FrameFlag } from "../../src/bus/frame-batch.ts";
import { type FrameSource, SourceEndedEarly } from "../../src/bus/frame-source.ts";
import { type Frame, framesIn, readAll } from "./frames.ts";

/** A source to be held against the promises of `FrameSource`. */
export interface SourceUnderTest {
  /** What it must deliver; more than two frames. */
  readonly frames: readonly Frame[];
  /** A live source does not end after them. */
  readonly endless?: boolean;
  /** Frames are stamped when they come, so that only the order of their times is known. */
  readonly stampsOnArrival?: boolean;
  open(buses: BusNames, batchSize: number): FrameSource | Promise<FrameSource>;
  /** The same, cut off in the middle; not for live sources. */
  openCut?(buses: BusNames): FrameSource | Promise<FrameSource>;
}

/** One promise, as a sentence, and what throws where it is not kept. */
export interface ConformanceCase {
  readonly promise: string;
  readonly holds: () => Promise<void>;
}

const BATCH_SIZES = [1, 2, 3, 7, 64, 1000, 100_000];

/**
 * What holds for every source of frames: recordings, standard input, live adapters. It needs no test
 * runner, so that it can be held against a real kernel inside the virtual machine too.
 */
export function conformanceOf(source: SourceUnderTest): readonly ConformanceCase[] {
  const most = source.endless === true ? source.frames.length : Infinity;
  const same = (found: readonly Frame[], expected: readonly Frame[]) =>
    deepStrictEqual(source.stampsOnArrival === true ? timed(found, expected) : found, expected);
  const cases: ConformanceCase[] = BATCH_SIZES.map((size) => ({
    promise: `gives the same frames in batches of ${size}`,
    async holds() {
      const buses = new BusNames();
      const { frames, error } = await readAll(await source.open(buses, size), buses, most);
      strictEqual(error, undefined);
      same(frames, source.frames);
    },
  }));
  cases.push({
    promise: "never holds more in a batch than it was asked to",
    async holds() {
      const opened = await source.open(new BusNames(), 2);
      for await (const batch of opened.batches()) {
        strictEqual(batch.capacity, 2);
        ok(batch.count > 0 && batch.count <= 2);
        if (opened.counts.frames >= most) opened.stop();
      }
    },
  }, {
    promise: "counts what it delivered, by kind",
    async holds() {
      const buses = new BusNames();
      const opened = await source.open(buses, 64);
      await readAll(opened, buses, most);
      deepStrictEqual({ ...opened.counts }, countsOf(source.frames));
      deepStrictEqual([...opened.problems], []);
    },
  }, {
    promise: "ends soon after stop, which may come twice",
    async holds() {
      const buses = new BusNames();
      const opened = await source.open(buses, 1);
      const seen: Frame[] = [];
      for await (const batch of opened.batches()) {
        seen.push(...framesIn(batch, buses));
        opened.stop();
        opened.stop();
      }
      // What the system already held for us may still come.
      ok(seen.length >= 1 && seen.length <= source.frames.length);
      same(seen, source.frames.slice(0, seen.length));
    },
  }, {
    promise: "can be left in the middle",
    async holds() {
      const opened = await source.open(new BusNames(), 1);
      for await (const batch of opened.batches()) {
        strictEqual(batch.count, 1);
        break;
      }
      ok(opened.counts.frames > 0);
    },
  });
  const { openCut } = source;
  if (openCut === undefined) return cases;
  return [...cases, {
    promise: "cut off, gives everything before the cut and then says so",
    async holds() {
      const buses = new BusNames();
      const opened = await openCut(buses);
      const { frames, error } = await readAll(opened, buses);
      ok(error instanceof SourceEndedEarly);
      ok(error.message.includes(opened.title));
      ok(frames.length > 0 && frames.length < source.frames.length);
      same(frames, source.frames.slice(0, frames.length));
    },
  }];
}

/** Frames with the times that were expected, once it is sure that their own are in order. */
function timed(found: readonly Frame[], expected: readonly Frame[]): Frame[] {
  const times = found.map(({ time }) => time);
  deepStrictEqual(times, times.toSorted((a, b) => a - b));
  ok(times.every((time) => Number.isInteger(time) && time > 0));
  return found.map((frame, i) => ({ ...frame, time: expected[i]?.time ?? NaN }));
}

function countsOf(frames: readonly Frame[]) {
  const ofKind = (has: (flags: number) => boolean) =>
    frames.filter(({ flags }) => has(flags)).length;
  return {
    frames: frames.length,
    standard: ofKind((flags) => (flags & (FrameFlag.extended | FrameFlag.error)) === 0),
    remote: ofKind((flags) => (flags & FrameFlag.remote) !== 0),
    error: ofKind((flags) => (flags & FrameFlag.error) !== 0),
    errorKinds: errorKindsOf(frames),
    fd: ofKind((flags) => (flags & FrameFlag.fd) !== 0),
    malformed: 0,
    dropped: 0,
    clockJumps: 0,
    clockJumpedBy: 0,
  };
}

function errorKindsOf(frames: readonly Frame[]): Partial<Record<ErrorKind, number>> {
  const counts: Partial<Record<ErrorKind, number>> = {};
  for (const { flags, identifier, data } of frames) {
    if ((flags & FrameFlag.error) === 0) continue;
    for (const kind of errorKinds(identifier, new Uint8Array(data), 0, data.length)) {
      counts[kind] = (counts[kind] ?? 0) + 1;
    }
  }
  return counts;
}
