import { gzipSync } from "node:zlib";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { Quality } from "../../src/boat/quality.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { SourceEndedEarly } from "../../src/bus/frame-source.ts";
import type { RecordingKind } from "../../src/bus/recordings/recognise.ts";
import { recordingSource } from "../../src/bus/recordings/recording-source.ts";
import { Watch } from "../../src/watch.ts";
import { fullBus } from "../bench/full-bus.ts";
import { bytesInPieces, framesIn, joined } from "./frames.ts";
import { Chance } from "./damaged-bus.ts";
import { fullBusLines } from "./full-bus-lines.ts";
import { packRules } from "./pack-rehearsal.ts";
import { pcapngOf, pcapOf } from "./pcap-writer.ts";

/** Frames of one recording: two seconds of a full bus. */
const FRAMES = 4_000;

type Recording = readonly [RecordingKind, Uint8Array];

/** The same frames in every form in which they can be read. */
function recordings(): readonly Recording[] {
  const { batches, buses } = fullBus(FRAMES);
  const frames = batches.flatMap((batch) => framesIn(batch, buses));
  const plain: readonly Recording[] = [
    ["candump", new TextEncoder().encode(fullBusLines(FRAMES))],
    ["pcap", pcapOf(frames)],
    ["pcap", pcapOf(frames, { linkType: 113, littleEndian: false, nanoseconds: true })],
    ["pcapng", pcapngOf(frames)],
  ];
  const packed = plain.map(([kind, bytes]): Recording => [kind, new Uint8Array(gzipSync(bytes))]);
  return [...plain, ...packed];
}

/** Some bytes are others, some are gone, some come twice; now and then the end is missing. */
function damaged(whole: Uint8Array, chance: Chance): Uint8Array {
  let bytes = whole.slice();
  for (let hits = 1 + chance.below(8); hits > 0; hits--) {
    const at = chance.below(bytes.length);
    const length = chance.below(40);
    if (chance.oneIn(3)) {
      const rest = bytes.subarray(at + (chance.oneIn(2) ? length : -Math.min(at, length)));
      bytes = joined([bytes.subarray(0, at), rest]);
    } else {
      for (let i = at; i < Math.min(at + length, bytes.length); i++) bytes[i] = chance.below(256);
    }
  }
  return chance.oneIn(10) ? bytes.subarray(0, chance.below(bytes.length)) : bytes;
}

/**
 * Reads damaged recordings into one watch with rules, until so many frames have come; what is
 * thrown is a fault. Gives what was met, and every value that is called good and is none.
 */
export async function feedDamagedRecordings(frames: number, seed: number) {
  const chance = new Chance(seed);
  const busNames = new BusNames();
  const watch = new Watch({
    boat: UNKNOWN_BOAT,
    rules: packRules(["bus", "engine-diesel"]),
    busNames,
  });
  const all = recordings();
  const met = { frames: 0, malformed: 0, early: 0, wrong: [] as string[] };
  while (met.frames < frames) {
    const [kind, whole] = all[chance.below(all.length)];
    const bytes = bytesInPieces(damaged(whole, chance), [1 + chance.below(100_000)]);
    const source = recordingSource({ title: "damaged", kind, bytes, buses: busNames });
    try {
      for await (const batch of source.batches()) watch.feed(batch);
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      met.early++;
    }
    met.frames += source.counts.frames;
    met.malformed += source.counts.malformed;
    met.wrong.push(...wronglyGood(watch));
    watch.takeChanges();
    watch.signals.table.clearTouched();
  }
  const { binder, table } = watch.signals;
  const unknown = watch.devices.unknown.list.length;
  return {
    ...met,
    buses: busNames.count,
    signals: table.count,
    overflow: binder.overflow,
    devices: [...watch.devices.devices].length,
    unknown,
  };
}

function wronglyGood({ signals: { table } }: Watch): string[] {
  return table.facts.filter(({ words }, signal) =>
    table.qualities[signal] === Quality.good &&
    (!Number.isFinite(table.values[signal]) ||
      words !== null && table.word(signal) === undefined)
  ).map(({ name }) => name);
}
