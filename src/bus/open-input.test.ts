import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { batchOf, type Frame, readAll } from "../../tests/support/frames.ts";
import { pcapngOf, pcapOf } from "../../tests/support/pcap-writer.ts";
import { BusNames } from "./bus-names.ts";
import { CannotOpenInput } from "./cannot-open-input.ts";
import { FrameFlag } from "./frame-batch.ts";
import { SourceEndedEarly } from "./frame-source.ts";
import { openInput, type OpenInputOptions } from "./open-input.ts";
import { CandumpWriter } from "./recordings/candump-writer.ts";

const DAY = 86_400_000_000;

/** Frames of one day, so that files can be told apart and put in order. */
function framesOf(day: number, bus = "can0"): Frame[] {
  return [1, 2, 3].map((number) => ({
    time: day * DAY + number,
    bus,
    flags: FrameFlag.extended,
    identifier: 0x18eeff00 + day,
    length: 8,
    data: [number, 0, 0, 0, 0, 0, 0, 0],
  }));
}

function linesOf(frames: readonly Frame[]): Uint8Array {
  const buses = new BusNames();
  return new CandumpWriter(buses).lines(batchOf(frames, buses)).slice();
}

let folder = "";
beforeAll(async () => {
  folder = await Deno.makeTempDir();
  const voyage = join(folder, "voyage");
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "day.log": linesOf(framesOf(1)),
    "day.log.gz": gzipSync(linesOf(framesOf(1))),
    "day.pcap": pcapOf(framesOf(1)),
    "day.pcapng.gz": gzipSync(pcapngOf(framesOf(1))),
    "cut.log.gz": gzipSync(linesOf(framesOf(1))).subarray(0, -12),
    "worn.log": "00F0\n".repeat(900),
    "notes.txt": "Dear all,\nplease find attached",
    "empty.log": "",
    // Packed data that is wrong from its first bit on: no block has the type 3.
    "rotten.log.gz": new Uint8Array([
      ...gzipSync(linesOf(framesOf(1))).subarray(0, 10),
      0xff,
      0xff,
    ]),
    "voyage/b-first.log.gz": gzipSync(linesOf(framesOf(1))),
    "voyage/c-second.pcap": pcapOf(framesOf(2)),
    "voyage/a-third.log": linesOf(framesOf(3, "can1")),
    "voyage/b-first.expect.yaml": "expect: []",
    "voyage/.hidden": "",
    "voyage/notes.txt": "Dear all",
    "voyage/empty.log": "",
    "voyage/inner/day.log": linesOf(framesOf(4)),
    "no-recordings/notes.txt": "Dear all",
  };
  await Deno.mkdir(join(voyage, "inner"), { recursive: true });
  await Deno.mkdir(join(folder, "no-recordings"));
  for (const [name, content] of Object.entries(files)) {
    const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
    await Deno.writeFile(join(folder, name), bytes);
  }
});
afterAll(async () => {
  await Deno.remove(folder, { recursive: true });
});

async function open(text: string, more: Partial<OpenInputOptions> = {}) {
  const buses = new BusNames();
  const source = await openInput(text, { buses, folder, ...more });
  return { source, ...await readAll(source, buses) };
}

async function refusal(text: string): Promise<string> {
  const error = await open(text).catch((error) => error);
  expect(error).toBeInstanceOf(CannotOpenInput);
  return error.message.replaceAll(`${folder}/`, "");
}

describe("a file", () => {
  test.each([
    "day.log",
    "candump:day.log",
    "day.log.gz",
    "candump:day.log.gz",
    "day.pcap",
    "pcap:day.pcap",
    "day.pcapng.gz",
    "pcapng:day.pcapng.gz",
  ])("named as %s gives its frames", async (text) => {
    const { frames, error, source } = await open(text);
    expect(error).toBeUndefined();
    expect(frames).toEqual(framesOf(1));
    expect(source.live).toBe(false);
    expect(source.title).toBe(text.replace(/^\w+:/, ""));
  });

  test("may be named from elsewhere, and its bus too", async () => {
    const { frames } = await open(`port=${join(folder, "day.log")}`, { folder: "/" });
    expect(frames).toEqual(framesOf(1, "port"));
  });

  test("that is cut off gives what is readable, then a sentence", async () => {
    const { frames, error } = await open("cut.log.gz");
    expect(frames).toEqual(framesOf(1).slice(0, frames.length));
    expect(error).toBeInstanceOf(SourceEndedEarly);
    expect(String(error)).toContain("cut.log.gz is cut off");
  });

  test("said to hold candump lines is read, whatever they are like", async () => {
    const { frames, source } = await open("candump:worn.log");
    expect(frames).toEqual([]);
    expect(source.counts.malformed).toBe(900);
  });

  test.each([
    ["notes.txt", 'notes.txt is no recording: it begins with "Dear all,", expected candump lines'],
    ["empty.log", "empty.log is no recording: it is empty"],
    ["rotten.log.gz", "rotten.log.gz is no recording: it is damaged: its packed data is wrong"],
    ["pcap:day.log", 'day.log is no pcap recording: it begins with "(0000086400.000001) can0'],
    ["pcap:notes.txt", "notes.txt is no pcap recording"],
    ["candump:day.pcap", "day.pcap is no candump recording: it begins with the bytes D4 C3 B2 A1"],
    ["nowhere.log", "There is no file or folder nowhere.log."],
    ["can0", 'There is no file or folder can0; did you mean "socketcan:can0"?'],
    ["10.0.0.7:2000", 'folder 10.0.0.7:2000; did you mean "tcp:10.0.0.7:2000"?'],
    ["gateway:2000", 'did you mean "tcp:"?'],
    ["/dev/ttyUSB99", '/dev/ttyUSB99; did you mean "slcan:/dev/ttyUSB99"?'],
    ["/dev/tty", "say what it holds, as in slcan:/dev/tty."],
    ["pcap:voyage", "voyage is a folder, expected a pcap file."],
    ["/dev/null", "/dev/null is no ordinary file and can be read only once"],
    ["candmp:day.log", 'did you mean "candump:"?'],
    ["socketcan:can0", "cannot be used here"],
    ["can1=slcan:/dev/ttyACM0", "cannot be used here"],
    ["tcp:localhost:2000", "cannot be used here"],
  ])("is refused with a sentence: %s", async (text, sentence) => {
    expect(await refusal(text)).toContain(sentence);
  });
});

describe("a folder", () => {
  test("gives its recordings in time order, whatever they are called", async () => {
    const { frames, error, source } = await open("voyage");
    expect(error).toBeUndefined();
    expect(frames).toEqual([...framesOf(1), ...framesOf(2), ...framesOf(3, "can1")]);
    expect(source.counts.frames).toBe(9);
    expect(source.title).toBe("voyage");
  });

  test("speaks of files that are no recordings, but not of what belongs beside them", async () => {
    const { source } = await open("voyage");
    expect(source.problems).toEqual([
      { at: 0, found: "it is empty", expected: "a recording", recording: "empty.log" },
      {
        at: 0,
        found: 'it begins with "Dear all"',
        expected: "a recording",
        recording: "notes.txt",
      },
    ]);
  });

  test("goes on after a recording that is cut off, and says so at the end", async () => {
    const cut = join(folder, "voyage", "b-cut.log");
    await Deno.writeFile(cut, linesOf(framesOf(2, "can1")).subarray(0, -5));
    const { frames, error, source } = await open("voyage");
    await Deno.remove(cut);
    expect(frames).toHaveLength(11);
    expect(frames.slice(-3)).toEqual(framesOf(3, "can1"));
    expect(String(error)).toContain("b-cut.log ends in the middle of line 3");
    expect(source.counts.frames).toBe(11);
  });

  test("without recordings is refused", async () => {
    expect(await refusal("no-recordings")).toBe("The folder no-recordings holds no recordings.");
  });
});

describe("a scenario", () => {
  test("is played by the simulator that was given", async () => {
    const { frames } = await open("can1=simulator:harbour-day", {
      simulator: (scenario, { bus }) => {
        expect([scenario, bus]).toEqual(["harbour-day", "can1"]);
        return openInput("day.log", { buses: new BusNames(), folder });
      },
    });
    expect(frames).toHaveLength(3);
  });
});

describe("a TCP connection", () => {
  test("is made once somebody says how to make it again", async () => {
    const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
    const served = listener.accept().then(async (connection) => {
      const writer = connection.writable.getWriter();
      await writer.write(linesOf(framesOf(1)));
      for await (const _ of connection.readable);
    });
    const buses = new BusNames();
    const { port } = listener.addr as Deno.NetAddr;
    const clock = { steady: () => 0, wall: () => 0 };
    const sleep = (_length: number, signal: AbortSignal) =>
      new Promise<void>((resolve) => signal.addEventListener("abort", () => resolve()));
    const live = { delay: () => 0, sleep, clock };
    const source = await openInput(`can1=tcp:127.0.0.1:${port}`, { buses, folder, live });
    const { frames } = await readAll(source, buses, 3);
    await served;
    listener.close();
    expect(frames).toEqual(framesOf(1, "can1"));
    expect(source.live).toBe(true);
  });
});
