import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Frame, framesIn } from "../../../../tests/support/frames.ts";
import { SECOND } from "../../../ground/time.ts";
import { BusNames } from "../../bus-names.ts";
import { FrameBatch, FrameFlag } from "../../frame-batch.ts";
import type { SourceEvent } from "../../source-event.ts";
import { SourceTally } from "../../source-tally.ts";
import { SlcanLines } from "./slcan-lines.ts";

const NOW = 1_781_431_200 * SECOND;

/** Frames read from text that comes in pieces of a size, and what was counted. */
function read(
  text: string | Uint8Array,
  size = 4096,
  arrival = () => NOW,
  told?: (event: SourceEvent) => void,
) {
  const bytes = typeof text === "string" ? new TextEncoder().encode(text) : text;
  const buses = new BusNames();
  const tally = new SourceTally();
  const parser = new SlcanLines({ tally, bus: buses.numberOf("can0"), arrival, told });
  const batch = new FrameBatch(4);
  const frames: Frame[] = [];
  for (let from = 0; from < bytes.length; from += size) {
    const piece = bytes.subarray(from, from + size);
    for (let at = 0; at < piece.length;) {
      at = parser.parse(piece, at, batch);
      frames.push(...framesIn(batch, buses));
      batch.count = 0;
    }
  }
  return { frames, tally };
}

const bare = (frames: readonly Frame[]) =>
  frames.map(({ flags, identifier, data }) => [flags, identifier, ...data]);

describe("lines of a serial adapter", () => {
  test("are frames of both lengths of identifier, and remote requests", () => {
    const { frames } = read("T18FF0001801020304050607FF\rt7FF2AABB\rR18FF00013\rr1230\r");
    expect(frames.map(({ flags, identifier, length, data }) => ({
      flags,
      identifier,
      length,
      data,
    }))).toEqual([
      { flags: 1, identifier: 0x18ff0001, length: 8, data: [1, 2, 3, 4, 5, 6, 7, 255] },
      { flags: 0, identifier: 0x7ff, length: 2, data: [0xaa, 0xbb] },
      { flags: 3, identifier: 0x18ff0001, length: 3, data: [] },
      { flags: 2, identifier: 0x123, length: 0, data: [] },
    ]);
  });

  test("carry the adapter's milliseconds where it stamps", () => {
    let now = NOW;
    const arrival = () => now;
    const first = read("t10000000\rt1000000A\r", 4096, () => now++);
    expect(first.frames).toHaveLength(2);
    const { frames } = read("t1000EA5F\rt10000004\r", 4096, arrival);
    expect(frames[1].time - frames[0].time).toBe(0);
    expect(frames[0].time).toBe(now);
  });

  test.each([1, 2, 3, 7, 64])("are the same in pieces of %i bytes", (size) => {
    const text = "T18FF0001801020304050607FF\rt7FF2AABB\r\x07sp010130\rgarbage\rr1230\r";
    expect(read(text, size)).toEqual(read(text));
  });

  test("that are garbage are counted, and the next line is read again", () => {
    const { frames, tally } = read(
      `T18FF0001080102\r\xff\x00t7FF1\r${"x".repeat(500)}\rtFFF0\rt1009\rt7FF1AA\r`,
    );
    expect(bare(frames)).toEqual([[0, 0x7ff, 0xaa]]);
    expect(tally.counts.malformed).toBe(5);
    expect(tally.problems[0].found).toBe("T18FF0001080102");
  });

  test("that answer a command are no frames and no garbage", () => {
    const { frames, tally } = read("\r\x07z\rZ\rV1013\rNA123\rF00\r");
    expect(frames).toEqual([]);
    expect(tally.counts.malformed).toBe(0);
  });

  test("of the controller's state become error frames, once for each change", () => {
    const { frames, tally } = read("sa000000\rsw096008\rsw097008\rsp008128\rsb000256\rsa000000\r");
    expect(bare(frames)).toEqual([
      [FrameFlag.error, 0x204, 0, 0x04, 0, 0, 0, 0, 8, 96],
      [FrameFlag.error, 0x204, 0, 0x20, 0, 0, 0, 0, 128, 8],
      [FrameFlag.error, 0x240, 0, 0, 0, 0, 0, 0, 0, 0],
      [FrameFlag.error, 0x204, 0, 0x40, 0, 0, 0, 0, 0, 0],
    ]);
    expect(tally.counts.errorKinds).toEqual({
      "error-warning": 1,
      "error-passive": 1,
      "bus-off": 1,
      "error-active": 1,
    });
  });

  test("of errors become error frames, and an overflow is a loss", () => {
    const { frames, tally } = read("e1a\re3bcf\re1o\r");
    expect(bare(frames)).toEqual([
      [FrameFlag.error, 0xa8, 0, 0, 0, 0x19, 0, 0, 0, 0],
      [FrameFlag.error, 0x88, 0, 0, 0x0b, 0x08, 0, 0, 0, 0],
      [FrameFlag.error, 0x8c, 0, 0x01, 0, 0, 0, 0, 0, 0],
    ]);
    expect(tally.counts.dropped).toBe(1);
  });

  test("that answer the status question tell of overruns each time, of states once", () => {
    const { tally } = read("F00\rF08\rF08\rF04\rF04\rF24\rF00\r");
    expect(tally.counts.errorKinds).toEqual({
      "overflow": 2,
      "error-warning": 1,
      "error-passive": 1,
      "error-active": 1,
    });
    expect(tally.counts.dropped).toBe(2);
  });

  test("of states and overruns are told: a state when it changes, an overrun once", () => {
    const events: SourceEvent[] = [];
    read("sp128008\rF08\rF08\rsp128008\rsa000000\r", 4096, () => NOW, (event) => {
      events.push(event);
    });
    expect(events).toEqual([
      { kind: "controller", state: "error-passive" },
      { kind: "overflow" },
      { kind: "controller", state: "error-active" },
    ]);
  });

  test("of any content never stop the reader", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), (noise) => {
      const text = new TextEncoder().encode("\rt7FF1AA\r");
      const { frames } = read(new Uint8Array([...noise, ...text]));
      expect(bare(frames).at(-1)).toEqual([0, 0x7ff, 0xaa]);
    }));
  });
});
