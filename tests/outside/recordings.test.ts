import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameFlag } from "../../src/bus/frame-batch.ts";
import { openInput } from "../../src/bus/open-input.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";
import { anyFrame } from "../support/any-frame.ts";
import { batchOf, type Frame, readAll } from "../support/frames.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { pcapngOf, pcapOf, USUAL_FORM } from "../support/pcap-writer.ts";

/** Frames whose data tshark shows as it is: it dissects errors, and whatever has identifier 0. */
const FRAMES: readonly Frame[] = fc.sample(
  anyFrame.filter(({ flags, identifier }) => (flags & FrameFlag.error) === 0 && identifier > 0),
  { seed: 20181001, numRuns: 300 },
);
const ONE_BUS = FRAMES.map((frame) => ({ ...frame, bus: "can0" }));

let folder = "";
beforeAll(async () => {
  folder = await Deno.makeTempDir();
});
afterAll(async () => {
  await Deno.remove(folder, { recursive: true });
});

async function save(name: string, bytes: Uint8Array): Promise<string> {
  await Deno.writeFile(join(folder, name), bytes);
  return join(folder, name);
}

async function read(input: string): Promise<Frame[]> {
  const buses = new BusNames();
  const { frames, error } = await readAll(await openInput(input, { buses, folder }), buses);
  expect(error).toBeUndefined();
  return frames;
}

/** Runs a program to its end and gives the lines that it printed. */
function linesOf(program: string, ...words: string[]): string[] {
  const env = { TZ: "UTC", LC_ALL: "C" };
  const command = new Deno.Command(program, { args: words, cwd: folder, env, stderr: "null" });
  const { success, stdout } = command.outputSync();
  expect(success).toBe(true);
  return new TextDecoder().decode(stdout).split("\n").filter((line) => line !== "");
}

/** A frame in the fields that tshark prints: seconds, bits of the identifier, identifier, length, data. */
const TSHARK_FIELDS = ["frame.time_epoch", "can.flags.xtd", "can.flags.rtr", "can.flags.err"]
  .concat("can.id", "can.len", "data.data").flatMap((field) => ["-e", field]);

function tsharkRows(file: string, ...more: string[]): string[] {
  return linesOf(
    "tshark",
    "-r",
    file,
    "-T",
    "fields",
    "-E",
    "separator=,",
    ...TSHARK_FIELDS,
    ...more,
  );
}

function rowOf({ time, flags, identifier, length, data }: Frame, decimals: string): string {
  const bit = (flag: number) => (flags & flag) === 0 ? "0" : "1";
  const seconds = `${Math.floor(time / 1_000_000)}.${String(time % 1_000_000).padStart(6, "0")}`;
  // What follows a remote frame in a capture has no meaning; tshark prints it as it lies there.
  const captured = (flags & FrameFlag.remote) === 0 ? data : new Array<number>(length).fill(0);
  const hex = captured.map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [
    `${seconds}${decimals}`,
    bit(FrameFlag.extended),
    bit(FrameFlag.remote),
    bit(FrameFlag.error),
    identifier,
    length,
    hex,
  ].join(",");
}

/** tshark (Wireshark 4) reads the same captures and shows the same frames. */
needs("tshark")("the capture readers and tshark", () => {
  const forms = ([227, 113, 276] as const).flatMap((linkType) =>
    [true, false].flatMap((littleEndian) =>
      [true, false].map((nanoseconds) => ({ linkType, littleEndian, nanoseconds }))
    )
  );

  test.each(forms)("agree on a pcap of %j", async (form) => {
    const file = await save("voyage.pcap", pcapOf(ONE_BUS, form));
    const rows = (await read(file)).map((frame) => rowOf(frame, form.nanoseconds ? "999" : "000"));
    expect(rows).toEqual(tsharkRows(file));
  });

  test.each(forms)("agree on a pcapng of %j, interfaces too", async (form) => {
    const file = await save("voyage.pcapng", pcapngOf(FRAMES, form));
    const decimals = form.nanoseconds ? "999" : "000";
    const rows = (await read(file)).map((frame) => `${rowOf(frame, decimals)},${frame.bus}`);
    expect(rows).toEqual(tsharkRows(file, "-e", "frame.interface_name"));
  });

  test.each(["pcap", "nsecpcap", "pcapng"])("agree on what tshark wrote as %s", async (format) => {
    const file = await save("ours.pcap", pcapOf(ONE_BUS));
    const rewritten = join(folder, `rewritten.${format}`);
    linesOf("tshark", "-r", file, "-F", format, "-w", rewritten);
    expect(await read(rewritten)).toEqual(ONE_BUS);
  });
});

/** Real engine starts: the lines pass our reader, then a capture of them passes tshark. */
needs("tractor-data")("the engine starts of a real machine", () => {
  const counts = { "start1": 7519, "noStartInGear1": 3371, "highRPM1": 7736 };
  test.each(Object.entries(counts))("%s has %i frames", async (name, count) => {
    expect(await read(join(TRACTOR_DATA, `${name}.log.gz`))).toHaveLength(count);
  });

  test("come out of the writer as they went in", async () => {
    const file = join(TRACTOR_DATA, "start1.log.gz");
    const buses = new BusNames();
    const lines = new CandumpWriter(buses).lines(batchOf(await read(file), buses));
    expect(new TextDecoder().decode(lines)).toBe(gunzipSync(await Deno.readFile(file)).toString());
  });

  needs("tshark")("and tshark", () => {
    test("have the same identifiers as often, and J1939 addresses", async () => {
      const frames = await read(join(TRACTOR_DATA, "start1.log.gz"));
      const file = await save("start1.pcap", pcapOf(frames, USUAL_FORM));
      const rows = linesOf(
        ...["tshark", "-r", file, "-d", "can.subdissector,j1939"] as const,
        ...["-T", "fields", "-E", "separator=,", "-e", "can.id", "-e", "j1939.src_addr"],
      );
      const ours = (await read(file)).map(({ identifier }) => `${identifier},${identifier & 0xff}`);
      expect(tally(ours)).toEqual(tally(rows));
    });
  });
});

function tally(rows: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const row of rows.toSorted()) counts.set(row, (counts.get(row) ?? 0) + 1);
  return counts;
}

/** log2asc reads candump lines and asc2log writes them, both by the authors of candump. */
needs("can-utils")("candump lines and can-utils", () => {
  const plain = ONE_BUS.filter(({ flags }) => (flags & FrameFlag.remote) === 0)
    .map((frame, index) => ({ ...frame, time: 1_538_388_000_000_000 + index * 1234 }));

  test("agree in both directions", async () => {
    const buses = new BusNames();
    await save("ours.log", new CandumpWriter(buses).lines(batchOf(plain, buses)));
    linesOf("log2asc", "-I", "ours.log", "-O", "ours.asc", "can0");
    linesOf("asc2log", "-I", "ours.asc", "-O", "theirs.log");
    const theirs = await read(join(folder, "theirs.log"));
    const sinceFirst = (frames: readonly Frame[]) =>
      frames.map((frame) => ({ ...frame, time: frame.time - frames[0].time }));
    expect(sinceFirst(theirs)).toEqual(sinceFirst(plain));
  });
});
