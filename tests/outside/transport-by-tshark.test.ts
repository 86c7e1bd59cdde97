import { join } from "node:path";
import { expect, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameBatch } from "../../src/bus/frame-batch.ts";
import { openRecording } from "../../src/bus/open-recording.ts";
import { MILLISECOND } from "../../src/ground/time.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { Chance } from "../support/damaged-bus.ts";
import { batchOfLines } from "../support/frame-lines.ts";
import { type Frame, framesIn } from "../support/frames.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { pcapOf } from "../support/pcap-writer.ts";

/** A message in packets: its last frame from 1, and what it carried in hex. */
type Carried = readonly [frame: number, hex: string];

const hex = (numbers: Iterable<number>) =>
  [...numbers].map((byte) => byte.toString(16).padStart(2, "0")).join("");

/** What our assembler makes of connections between two others. */
function ours(batches: Iterable<FrameBatch>): Carried[] {
  const assembler = new MessageAssembler(new Columns(ALL_ROWS));
  const carried: Carried[] = [];
  let frame = 0;
  for (const batch of batches) {
    for (let i = 0; i < batch.count; i++, frame++) {
      if (!assembler.accept(batch, i, batch.times[i])) continue;
      const { bytes, destination, length, start } = assembler;
      const isConnection = length > 8 && destination !== 255;
      if (isConnection) carried.push([frame + 1, hex(bytes.subarray(start, start + length))]);
    }
  }
  return carried;
}

/**
 * What the ISO 11783 dissector of tshark 4.0.17 puts together. It puts together connections between
 * two devices, and writes the three bytes of the PGN before what they carried. Broadcasts it leaves in
 * pieces, and it mixes connections that go on at one time; what we make of those, other tests hold.
 */
async function theirs(frames: readonly Frame[]): Promise<Carried[]> {
  const file = join(ownFolder({ "bus.pcap": pcapOf(frames) }), "bus.pcap");
  const fields = ["-e", "frame.number", "-e", "isobus.reassembled.data"];
  const { stdout, success } = await new Deno.Command("tshark", {
    args: [
      ...["-r", file, "-d", "can.subdissector,isobus"],
      ...["-Y", "isobus.reassembled.data", "-T", "fields", ...fields],
    ],
    stderr: "null",
  }).output();
  expect(success).toBe(true);
  return new TextDecoder().decode(stdout).trim().split("\n").map((line) => {
    const [frame, data] = line.split("\t");
    return [Number(frame), data.slice(6)];
  });
}

/** A connection from one address to another, as both sides send it, every packet asked for at once. */
function connection(from: number, to: number, payload: Uint8Array): string[] {
  const [sender, receiver] = [from, to].map((address) => hex([address]));
  const count = Math.ceil(payload.length / 7);
  const size = hex([payload.length & 0xff, payload.length >> 8]);
  const spaced = (data: string) => data.match(/../g)?.join(" ");
  const line = (pgn: string, first: string, second: string, data: string) =>
    `1C${pgn}${first}${second} ${spaced(data)}`;
  return [
    line("EC", receiver, sender, `10${size}${hex([count])}ff00ef00`),
    line("EC", sender, receiver, `11${hex([count])}01ffff00ef00`),
    ...Array.from({ length: count }, (_, i) => {
      const part = hex(payload.subarray(i * 7, i * 7 + 7)).padEnd(14, "f");
      return line("EB", receiver, sender, hex([i + 1]) + part);
    }),
    line("EC", sender, receiver, `13${size}${hex([count])}ff00ef00`),
  ];
}

needs("tshark")("connections in packets, by tshark's own dissector", () => {
  test("of any length carry the same bytes", async () => {
    const chance = new Chance(11783);
    const lines: string[] = [];
    for (const length of [9, 13, 14, 15, 21, 50, 223, 700, 1_784, 1_785]) {
      const talks = [[3, 7], [7, 3], [20, 21]].map(([from, to]) =>
        connection(from, to, Uint8Array.from({ length }, () => chance.below(256)))
      );
      lines.push(...talks.flat());
    }
    const batch = batchOfLines(lines, MILLISECOND);
    const buses = new BusNames();
    buses.numberOf("can0");
    const found = ours([batch]);
    expect(found).toHaveLength(30);
    expect(found).toEqual(await theirs(framesIn(batch, buses)));
  });
});

needs("tractor-data")("a tractor's engine start", () => {
  test("has the two connections that tshark finds, at the same frames", async () => {
    const buses = new BusNames();
    const source = await openRecording(`${TRACTOR_DATA}/start1.log.gz`, {
      buses,
      batchSize: 100_000,
    });
    for await (const batch of source.batches()) {
      const found = ours([batch]);
      expect(found).toHaveLength(2);
      expect(found).toEqual(await theirs(framesIn(batch, buses)));
    }
  });
});
