import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { anyFrame } from "../../../tests/support/any-frame.ts";
import { batchOf, bytesInPieces, type Frame, readAll } from "../../../tests/support/frames.ts";
import { pcapngOf, pcapOf } from "../../../tests/support/pcap-writer.ts";
import { holdsAsFrameSource } from "../../../tests/support/holds-as-frame-source.ts";
import { BusNames } from "../bus-names.ts";
import type { FrameSource } from "../frame-source.ts";
import { CandumpWriter } from "./candump-writer.ts";
import type { RecordingKind } from "./recognise.ts";
import { recordingSource } from "./recording-source.ts";

/** The same two hundred frames of every kind in each format. */
const FRAMES = fc.sample(anyFrame, { seed: 20181001, numRuns: 200 });
/** pcap has no interface names. */
const ONE_BUS = FRAMES.map((frame) => ({ ...frame, bus: "can0" }));
/** Pieces that cut lines and records in all sorts of places. */
const PIECES = [1, 2, 3, 5, 8, 13, 21, 34, 55, 300, 4000];

function candumpOf(frames: readonly Frame[]): Uint8Array {
  const buses = new BusNames();
  return new CandumpWriter(buses).lines(batchOf(frames, buses)).slice();
}

function open(kind: RecordingKind, bytes: Uint8Array, buses: BusNames, size = 64): FrameSource {
  const stream = bytesInPieces(bytes, PIECES);
  return recordingSource({ title: "voyage", kind, bytes: stream, buses, batchSize: size });
}

const RECORDINGS: [string, RecordingKind, readonly Frame[], Uint8Array][] = [
  ["candump lines", "candump", FRAMES, candumpOf(FRAMES)],
  ["pcapng", "pcapng", FRAMES, pcapngOf(FRAMES)],
];
for (const linkType of [227, 113] as const) {
  for (const littleEndian of [true, false]) {
    for (const nanoseconds of [true, false]) {
      const form = { linkType, littleEndian, nanoseconds };
      const words = `link type ${linkType}, ${littleEndian ? "little" : "big"} endian, ` +
        `${nanoseconds ? "nano" : "micro"}seconds`;
      RECORDINGS.push(
        [`pcap of ${words}`, "pcap", ONE_BUS, pcapOf(ONE_BUS, form)],
        [`pcapng of ${words}`, "pcapng", FRAMES, pcapngOf(FRAMES, form)],
      );
    }
  }
}

for (const [name, kind, frames, bytes] of RECORDINGS) {
  holdsAsFrameSource(name, {
    frames,
    open: (buses, size) => open(kind, bytes, buses, size),
    openCut: (buses) => open(kind, bytes.subarray(0, bytes.length * 0.6 - 3), buses),
  });
}

for (const [name, kind, frames, bytes] of RECORDINGS.slice(0, 3)) {
  const packed = new Uint8Array(gzipSync(bytes));
  holdsAsFrameSource(`${name} packed with gzip`, {
    frames,
    open: (buses, size) => open(kind, packed, buses, size),
    openCut: (buses) => open(kind, packed.subarray(0, packed.length * 0.6), buses),
  });
}

holdsAsFrameSource("lines that come in as they are recorded, as on standard input", {
  frames: FRAMES,
  open: (buses, batchSize) =>
    recordingSource({
      title: "standard input",
      kind: "candump",
      bytes: bytesInPieces(candumpOf(FRAMES), PIECES),
      live: true,
      buses,
      batchSize,
    }),
});

describe("a recording with a name given to its bus", () => {
  test("has its frames on that bus", async () => {
    const buses = new BusNames();
    const bytes = bytesInPieces(pcapOf(ONE_BUS));
    const source = recordingSource({ title: "voyage", kind: "pcap", bytes, buses, bus: "port" });
    const { frames } = await readAll(source, buses);
    expect(frames).toEqual(ONE_BUS.map((frame) => ({ ...frame, bus: "port" })));
  });

  test("does not mix a second interface into it", async () => {
    const buses = new BusNames();
    const bytes = bytesInPieces(pcapngOf(FRAMES));
    const source = recordingSource({ title: "voyage", kind: "pcapng", bytes, buses, bus: "port" });
    const { frames } = await readAll(source, buses);
    const first = FRAMES.filter(({ bus }) => bus === FRAMES[0].bus);
    expect(frames).toEqual(first.map((frame) => ({ ...frame, bus: "port" })));
    expect(source.counts.malformed).toBe(FRAMES.length - first.length);
    expect(source.problems[0].expected).toContain("one interface only");
  });
});
