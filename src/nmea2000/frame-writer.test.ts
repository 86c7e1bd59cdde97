import { describe, expect, test } from "vitest";
import { FrameBatch } from "../bus/frame-batch.ts";
import { SECOND } from "../ground/time.ts";
import { MessageAssembler } from "./assembler.ts";
import { Columns } from "./columns.ts";
import { decodeMessage } from "./decode-message.ts";
import { fastPacketFrames } from "./fast-packet.ts";
import { FrameWriter } from "./frame-writer.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const rowOf = (pgn: number) => ALL_ROWS[columns.rowOf(pgn)];
const envelope = { bus: 1, source: 7, time: SECOND };

describe("the frame writer", () => {
  test("writes a single frame as the standard lays it out", () => {
    const batch = new FrameBatch(1);
    new FrameWriter().write(batch, rowOf(127488), { instance: 0, speed: 700 }, envelope);
    expect(batch.identifiers[0].toString(16)).toBe("9f20007");
    expect([...batch.data]).toEqual([0, 0xf0, 0x0a, 0xff, 0xff, 0x7f, 0xff, 0xff]);
    expect([batch.times[0], batch.buses[0], batch.lengths[0]]).toEqual([SECOND, 1, 8]);
  });

  test("writes fast packets that the assembler puts together, each with the next number", () => {
    const batch = new FrameBatch(80);
    const writer = new FrameWriter();
    const values = { "serial": "A-0042", "model": "gauge", "load-equivalency": 2 };
    for (let i = 0; i < 2; i++) writer.write(batch, rowOf(126996), values, envelope);
    expect(batch.count).toBe(40);
    expect([batch.data[0], batch.data[20 * 8]]).toEqual([0x00, 0x20]);

    const assembler = new MessageAssembler(columns);
    const serials = [];
    for (let i = 0; i < batch.count; i++) {
      if (!assembler.accept(batch, i, batch.times[i])) continue;
      const { row, bytes, start, length } = assembler;
      serials.push(decodeMessage(columns, row, bytes, start, length).serial.value);
    }
    expect(serials).toEqual(["A-0042", "A-0042"]);
  });

  test("numbers the fast packets of each sender and PGN apart, from 0 to 7", () => {
    const batch = new FrameBatch(30);
    const writer = new FrameWriter();
    for (let i = 0; i < 9; i++) writer.write(batch, rowOf(127507), {}, envelope);
    writer.write(batch, rowOf(127507), {}, { ...envelope, source: 8 });
    writer.write(batch, rowOf(127507), {}, { ...envelope, bus: 0 });
    const sequences = Array.from({ length: batch.count }, (_, i) => batch.data[i * 8] >> 5);
    expect(sequences).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 0, 0, 0]);
  });

  test("appends nothing where the batch has no room for the whole message", () => {
    const batch = new FrameBatch(4);
    const writer = new FrameWriter();
    expect(writer.write(batch, rowOf(127488), {}, envelope)).toBe(true);
    expect(writer.write(batch, rowOf(127489), {}, envelope)).toBe(false);
    expect(batch.count).toBe(1);
  });

  test("takes the destination of an addressed message", () => {
    const batch = new FrameBatch(1);
    const claim = { ...rowOf(60928), transport: "single" as const };
    const bytes = new Uint8Array(8);
    new FrameWriter().writeBytes(batch, claim, bytes, { ...envelope, destination: 9 });
    expect(batch.identifiers[0]).toBe(0x18ee0907);
  });
});

describe("a list of trouble codes", () => {
  const row = rowOf(65226);
  const codes = (count: number) =>
    Array.from(
      { length: count },
      (_, i) => ({ spn: 100 + i, fmi: "voltage-low", occurrences: 1, "old-layout": "no" }),
    );

  test("of one is a single frame, filled up", () => {
    const batch = new FrameBatch(1);
    new FrameWriter().write(batch, row, { "red-stop-lamp": "on" }, envelope, codes(1));
    expect([...batch.data]).toEqual([0xdf, 0xff, 100, 0, 4, 1, 0xff, 0xff]);
  });

  test("of more is a broadcast in packets", () => {
    const batch = new FrameBatch(3);
    expect(new FrameWriter().write(batch, row, {}, envelope, codes(2))).toBe(true);
    expect([...batch.identifiers].map((identifier) => identifier.toString(16)))
      .toEqual(["18ecff07", "18ebff07", "18ebff07"]);
    expect([...batch.data.subarray(0, 9)]).toEqual([32, 10, 0, 2, 0xff, 0xca, 0xfe, 0, 1]);
  });

  test("that the batch has no room for leaves the batch as it is", () => {
    const batch = new FrameBatch(2);
    expect(new FrameWriter().write(batch, row, {}, envelope, codes(2))).toBe(false);
    expect(batch.count).toBe(0);
  });

  test("that is too long, or for one device alone, is refused", () => {
    const batch = new FrameBatch(300);
    const write = (count: number, destination: number) =>
      new FrameWriter().writeBytes(batch, row, new Uint8Array(count), { ...envelope, destination });
    expect(() => write(1786, 255)).toThrow("expected at most 1785");
    expect(() => write(100, 9)).toThrow();
    expect(write(1785, 255)).toBe(true);
    expect(batch.count).toBe(256);
  });
});

// 6 bytes in the first frame, 7 in each later one.
test.each([[0, 1], [6, 1], [7, 2], [9, 2], [13, 2], [14, 3], [26, 4], [223, 32]])(
  "a fast packet of %i bytes takes %i frames",
  (length, frames) => expect(fastPacketFrames(length)).toBe(frames),
);
