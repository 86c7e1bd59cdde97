import { describe, expect, test } from "vitest";
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
  open(buses: BusNames, batchSize: number): FrameSource | Promise<FrameSource>;
  /** The same, cut off in the middle; not for live sources. */
  openCut?(buses: BusNames): FrameSource | Promise<FrameSource>;
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

const BATCH_SIZES = [1, 2, 3, 7, 64, 1000, 100_000];

/** What holds for every source of frames: recordings, live adapters, the simulator. */
export function holdsAsFrameSource(name: string, source: SourceUnderTest): void {
  const most = source.endless === true ? source.frames.length : Infinity;
  describe(`${name}, as a source of frames`, () => {
    test.each(BATCH_SIZES)("gives the same frames in batches of %i", async (size) => {
      const buses = new BusNames();
      const { frames, error } = await readAll(await source.open(buses, size), buses, most);
      expect(error).toBeUndefined();
      expect(frames).toEqual(source.frames);
    });

    test("never holds more in a batch than it was asked to", async () => {
      const opened = await source.open(new BusNames(), 2);
      for await (const batch of opened.batches()) {
        expect(batch.capacity).toBe(2);
        expect(batch.count).toBeGreaterThan(0);
        if (opened.counts.frames >= most) opened.stop();
      }
    });

    test("counts what it delivered, by kind", async () => {
      const buses = new BusNames();
      const opened = await source.open(buses, 64);
      await readAll(opened, buses, most);
      const ofKind = (has: (flags: number) => boolean) =>
        source.frames.filter(({ flags }) => has(flags)).length;
      expect(opened.counts).toEqual({
        frames: source.frames.length,
        standard: ofKind((flags) => (flags & (FrameFlag.extended | FrameFlag.error)) === 0),
        remote: ofKind((flags) => (flags & FrameFlag.remote) !== 0),
        error: ofKind((flags) => (flags & FrameFlag.error) !== 0),
        errorKinds: errorKindsOf(source.frames),
        fd: ofKind((flags) => (flags & FrameFlag.fd) !== 0),
        malformed: 0,
        dropped: 0,
        clockJumps: 0,
        clockJumpedBy: 0,
      });
      expect(opened.problems).toEqual([]);
    });

    test("ends after stop, which may come twice", async () => {
      const buses = new BusNames();
      const opened = await source.open(buses, 1);
      const seen: Frame[] = [];
      for await (const batch of opened.batches()) {
        seen.push(...framesIn(batch, buses));
        opened.stop();
        opened.stop();
      }
      expect(seen).toEqual(source.frames.slice(0, 1));
    });

    test("can be left in the middle", async () => {
      const opened = await source.open(new BusNames(), 1);
      for await (const batch of opened.batches()) {
        expect(batch.count).toBe(1);
        break;
      }
      expect(opened.counts.frames).toBeGreaterThan(0);
    });

    const { openCut } = source;
    if (openCut === undefined) return;
    test("cut off, gives everything before the cut and then says so", async () => {
      const buses = new BusNames();
      const opened = await openCut(buses);
      const { frames, error } = await readAll(opened, buses);
      expect(error).toBeInstanceOf(SourceEndedEarly);
      expect(String(error)).toContain(opened.title);
      expect(frames.length).toBeGreaterThan(0);
      expect(frames.length).toBeLessThan(source.frames.length);
      expect(frames).toEqual(source.frames.slice(0, frames.length));
    });
  });
}
