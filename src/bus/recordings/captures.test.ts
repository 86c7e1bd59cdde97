import { describe, expect, test } from "vitest";
import { bytesInPieces, type Frame, joined, readAll } from "../../../tests/support/frames.ts";
import { block, pcapngOf, pcapOf, USUAL_FORM } from "../../../tests/support/pcap-writer.ts";
import { BusNames } from "../bus-names.ts";
import { FrameFlag } from "../frame-batch.ts";
import { SourceEndedEarly } from "../frame-source.ts";
import type { RecordingKind } from "./recognise.ts";
import { recordingSource } from "./recording-source.ts";

const FRAMES: readonly Frame[] = [0, 1, 2].map((number) => ({
  time: 1_538_388_000_000_000 + number,
  bus: "can0",
  flags: FrameFlag.extended,
  identifier: 0x18eeff03,
  length: 2,
  data: [number, 0xff],
}));
const COOKED = { ...USUAL_FORM, linkType: 113 } as const;

async function read(kind: RecordingKind, bytes: Uint8Array) {
  const buses = new BusNames();
  const source = recordingSource({ title: "voyage", kind, bytes: bytesInPieces(bytes), buses });
  return { ...await readAll(source, buses), source };
}

function changed(bytes: Uint8Array, at: number, ...put: number[]): Uint8Array {
  const copy = bytes.slice();
  copy.set(put, at);
  return copy;
}

/** Where the first packet's frame begins: after the headers of file and record. */
const FIRST_PACKET = 24 + 16;

describe("a pcap capture", () => {
  test("of cooked packets has its identifiers in the host's order (03 FF EE 98)", () => {
    const bytes = pcapOf(FRAMES, COOKED);
    expect([...bytes.subarray(FIRST_PACKET + 16, FIRST_PACKET + 20)]).toEqual([
      3,
      0xff,
      0xee,
      0x98,
    ]);
  });

  test("counts FD frames without their data", async () => {
    const { frames, source } = await read("pcap", changed(pcapOf(FRAMES), FIRST_PACKET + 5, 4));
    expect(frames[0]).toMatchObject({ flags: FrameFlag.extended | FrameFlag.fd, data: [] });
    expect(source.counts).toMatchObject({ frames: 3, fd: 1, malformed: 0 });
  });

  test.each<[string, number, number, string]>([
    ["nine data bytes", FIRST_PACKET + 4, 9, "at most 8 data bytes"],
    ["a length bit of CAN XL", FIRST_PACKET + 4, 0x80, "at most 8 data bytes"],
  ])("counts a record with %s as malformed and goes on", async (_what, at, byte, expected) => {
    const { frames, source } = await read("pcap", changed(pcapOf(FRAMES), at, byte));
    expect(frames).toEqual(FRAMES.slice(1));
    expect(source.problems).toHaveLength(1);
    expect(source.problems[0]).toMatchObject({ at: 1 });
    expect(source.problems[0].expected).toContain(expected);
    expect(source.problems[0].found).toMatch(/^98 EE FF 03 /);
  });

  test("of another link type has no frames, and says which it expected", async () => {
    const { frames, source } = await read("pcap", changed(pcapOf(FRAMES), 20, 1));
    expect(frames).toEqual([]);
    expect(source.counts.malformed).toBe(3);
    expect(source.problems[0].expected).toBe(
      "link type 227 (SocketCAN), 113 or 276 (Linux cooked)",
    );
  });

  test("passes over other protocols among cooked packets", async () => {
    const bytes = changed(pcapOf(FRAMES, COOKED), FIRST_PACKET + 14, 0x08, 0x00);
    const { frames, source } = await read("pcap", bytes);
    expect(frames).toEqual(FRAMES.slice(1));
    expect(source.counts.malformed).toBe(0);
  });

  test("cannot go on after a record of impossible length", async () => {
    const second = FIRST_PACKET + 16 + 8;
    const { frames, error } = await read("pcap", changed(pcapOf(FRAMES), second, 0, 0, 0, 0x10));
    expect(frames).toEqual(FRAMES.slice(0, 1));
    expect(error).toBeInstanceOf(SourceEndedEarly);
    expect(String(error)).toContain("voyage is damaged: record 2");
  });
});

describe("a pcapng capture", () => {
  test("passes over other interfaces beside a bus", async () => {
    const eth0 = FRAMES.map((frame) => ({ ...frame, bus: "eth0" }));
    const whole = pcapngOf([...eth0, ...FRAMES]);
    // The link type of the first interface, after the section's block: Ethernet.
    const { frames, source } = await read("pcapng", changed(whole, 28 + 8, 1));
    expect(frames).toEqual(FRAMES);
    expect(source.counts.malformed).toBe(0);
  });

  test("passes over simple packets and blocks that it does not know", async () => {
    const whole = pcapngOf(FRAMES);
    const other = [block(3, new Uint8Array(20)), block(0x0bad, new Uint8Array(5000))];
    const { frames, source } = await read("pcapng", joined([whole.subarray(0, 28), ...other]));
    expect(frames).toEqual([]);
    expect(source.counts.malformed).toBe(0);
    const { frames: after } = await read(
      "pcapng",
      joined([whole.subarray(0, 60), ...other, whole.subarray(60)]),
    );
    expect(after).toEqual(FRAMES);
  });

  test("may begin a new section in the other byte order", async () => {
    const bigEndian = { ...USUAL_FORM, littleEndian: false, nanoseconds: true };
    const { frames, error } = await read(
      "pcapng",
      joined([pcapngOf(FRAMES), pcapngOf(FRAMES, bigEndian)]),
    );
    expect(error).toBeUndefined();
    expect(frames).toEqual([...FRAMES, ...FRAMES]);
  });

  test("counts a packet of an interface that was not described", async () => {
    const whole = pcapngOf(FRAMES);
    const firstPacket = whole.length - 3 * 48;
    const { frames, source } = await read("pcapng", changed(whole, firstPacket + 8, 7));
    expect(frames).toEqual(FRAMES.slice(1));
    expect(source.problems[0].expected).toBe("a packet of an interface described before it");
  });

  test("cannot go on after a block of impossible length", async () => {
    const whole = pcapngOf(FRAMES);
    const second = whole.length - 2 * 48;
    const { frames, error } = await read("pcapng", changed(whole, second + 4, 3));
    expect(frames).toEqual(FRAMES.slice(0, 1));
    expect(String(error)).toContain("damaged");
  });
});
