import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { anyFrame } from "../../../tests/support/any-frame.ts";
import { batchOf, bytesInPieces, type Frame, readAll } from "../../../tests/support/frames.ts";
import { pcapngOf, pcapOf } from "../../../tests/support/pcap-writer.ts";
import { BusNames } from "../bus-names.ts";
import { SourceEndedEarly } from "../frame-source.ts";
import { CandumpWriter } from "./candump-writer.ts";
import { beginning, recognise, type RecordingKind } from "./recognise.ts";
import { recordingSource } from "./recording-source.ts";

const FRAMES = fc.sample(anyFrame, { seed: 1852, numRuns: 40 });

function candumpOf(frames: readonly Frame[]): Uint8Array {
  const buses = new BusNames();
  return new CandumpWriter(buses).lines(batchOf(frames, buses)).slice();
}

const WHOLE: Readonly<Record<RecordingKind, Uint8Array>> = {
  candump: candumpOf(FRAMES),
  pcap: pcapOf(FRAMES),
  pcapng: pcapngOf(FRAMES),
};
const KINDS = ["candump", "pcap", "pcapng"] as const;

interface Change {
  readonly at: number;
  readonly put: Uint8Array;
  readonly removed: number;
}

const anyChanges: fc.Arbitrary<Change[]> = fc.array(
  fc.record({ at: fc.nat(), put: fc.uint8Array({ maxLength: 30 }), removed: fc.nat(60) }),
  { minLength: 1, maxLength: 6 },
);

function withChanges(whole: Uint8Array, changes: readonly Change[]): Uint8Array {
  return changes.reduce((bytes, { at, put, removed }) => {
    const place = at % (bytes.length + 1);
    return new Uint8Array([
      ...bytes.subarray(0, place),
      ...put,
      ...bytes.subarray(place + removed),
    ]);
  }, whole);
}

/** Reads to the end, in batches and pieces of any size, and holds what must always hold. */
async function readDamaged(kind: RecordingKind, bytes: Uint8Array, size: number, piece: number) {
  const buses = new BusNames();
  const stream = bytesInPieces(bytes, [piece]);
  const source = recordingSource({ title: "damaged", kind, bytes: stream, buses, batchSize: size });
  const { frames, error } = await readAll(source, buses);
  if (error !== undefined) expect(error).toBeInstanceOf(SourceEndedEarly);
  expect(source.counts.frames).toBe(frames.length);
  expect(source.problems.length).toBe(Math.min(20, source.counts.malformed));
  for (const { time, length, identifier } of frames) {
    expect(Number.isSafeInteger(time)).toBe(true);
    expect(length).toBeLessThanOrEqual(8);
    expect(identifier).toBeLessThanOrEqual(0x1fffffff);
  }
  return { frames, counts: source.counts, problems: source.problems, error: String(error) };
}

const anySize = fc.integer({ min: 1, max: 70 });
const anyPiece = fc.integer({ min: 1, max: 500 });

describe.each(KINDS)("a damaged recording of kind %s", (kind) => {
  test("is read without anything but the documented error", async () => {
    await fc.assert(
      fc.asyncProperty(anyChanges, anySize, anyPiece, async (changes, size, piece) => {
        await readDamaged(kind, withChanges(WHOLE[kind], changes), size, piece);
      }),
    );
  });

  test("is read the same in batches and pieces of any size", async () => {
    await fc.assert(
      fc.asyncProperty(anyChanges, anySize, anyPiece, async (changes, size, piece) => {
        const bytes = withChanges(WHOLE[kind], changes);
        const whole = await readDamaged(kind, bytes, 100_000, 1_000_000);
        expect(await readDamaged(kind, bytes, size, piece)).toEqual(whole);
      }),
    );
  });

  test("may be no recording at all", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ maxLength: 3000 }),
        anySize,
        anyPiece,
        async (bytes, ...sizes) => {
          await readDamaged(kind, bytes, ...sizes);
        },
      ),
    );
  });
});

test("any bytes at all are recognised or described", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      recognise(bytes);
      expect(beginning(bytes)).toMatch(/^it (is empty|begins with )/);
    }),
  );
});
