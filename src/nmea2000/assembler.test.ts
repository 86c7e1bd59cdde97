import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import { MILLISECOND, SECOND } from "../ground/time.ts";
import { MessageAssembler } from "./assembler.ts";
import { Columns } from "./columns.ts";
import { FAST_PACKET_TIMEOUT } from "./fast-packet.ts";
import { MOST_SESSIONS } from "./fast-packet-sessions.ts";
import { identifierOf } from "./identifier.ts";
import { senderOf } from "./message-counts.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const ENGINE = 127489;
const DC_DETAIL = 127506;
const CHARGER = 127507;

interface Frame {
  readonly pgn: number;
  readonly source: number;
  readonly data: readonly number[];
  readonly destination?: number;
  readonly bus?: number;
  readonly time?: number;
  readonly flags?: number;
}

function batchOf(frames: readonly Frame[]): FrameBatch {
  const batch = new FrameBatch(frames.length);
  for (const [i, frame] of frames.entries()) {
    batch.identifiers[i] = identifierOf({ priority: 6, ...frame });
    batch.times[i] = frame.time ?? 0;
    batch.buses[i] = frame.bus ?? 0;
    batch.flags[i] = frame.flags ?? FrameFlag.extended;
    batch.lengths[i] = frame.data.length;
    batch.data.set(frame.data, i * 8);
  }
  batch.count = frames.length;
  return batch;
}

/** The frames of a fast packet whose payload is `bytes`. */
function fastPacket(sequence: number, bytes: readonly number[], frame: Omit<Frame, "data">) {
  const frames: Frame[] = [];
  for (let index = 0, at = 0; index === 0 || at < bytes.length; index++) {
    const head = index === 0 ? [sequence << 5, bytes.length] : [(sequence << 5) | index];
    const room = 8 - head.length;
    const part = bytes.slice(at, at + room);
    at += room;
    frames.push({ ...frame, data: [...head, ...part, ...Array(room - part.length).fill(0xff)] });
  }
  return frames;
}

function assemble(frames: readonly Frame[], assembler = new MessageAssembler(columns)) {
  const batch = batchOf(frames);
  const messages = [];
  for (let i = 0; i < batch.count; i++) {
    if (!assembler.accept(batch, i, batch.times[i])) continue;
    const { row, pgn, source, destination, bus, bytes, start, length } = assembler;
    messages.push({
      row,
      pgn,
      source,
      destination,
      bus,
      bytes: [...bytes.subarray(start, start + length)],
    });
  }
  return { messages, assembler };
}

const counting = (length: number, from = 0) => Array.from({ length }, (_, i) => (i + from) & 0xff);

describe("a single frame", () => {
  test("is a message at once, and its bytes stay in the batch", () => {
    const assembler = new MessageAssembler(columns);
    const batch = batchOf([
      { pgn: 127488, source: 3, data: [9, 9] },
      { pgn: 127508, source: 7, bus: 2, data: [1, 2, 3, 4, 5, 6, 7, 8] },
    ]);
    expect(assembler.accept(batch, 1, 0)).toBe(true);
    expect(assembler).toMatchObject({
      row: columns.rowOf(127508),
      pgn: 127508,
      source: 7,
      destination: 255,
      bus: 2,
      start: 8,
      length: 8,
    });
    expect(assembler.bytes).toBe(batch.data);
  });

  test("to one address says which", () => {
    const { messages } = assemble([{ pgn: 59904, source: 7, destination: 35, data: [0, 0xee, 0] }]);
    expect(messages).toMatchObject([{ pgn: 59904, destination: 35, bytes: [0, 0xee, 0] }]);
  });

  test("without a row is delivered as row -1 and counted", () => {
    const { messages, assembler } = assemble([{ pgn: 130820, source: 7, data: [1] }]);
    expect(messages).toMatchObject([{ row: -1, pgn: 130820 }]);
    expect(assembler.counts.unknown).toBe(1);
  });

  test.each([
    ["11-bit", 0],
    ["remote", FrameFlag.extended | FrameFlag.remote],
    ["error", FrameFlag.error],
    ["FD", FrameFlag.extended | FrameFlag.fd],
  ])("that is %s is passed over", (_, flags) => {
    const { messages } = assemble([{ pgn: 127488, source: 1, data: counting(8), flags }]);
    expect(messages).toEqual([]);
  });
});

describe("a fast packet", () => {
  test.each([1, 5, 6, 7, 13, 14, 26, 222, 223])("of %i bytes arrives whole", (length) => {
    const { messages } = assemble(fastPacket(3, counting(length), { pgn: ENGINE, source: 1 }));
    expect(messages).toEqual([{
      row: columns.rowOf(ENGINE),
      pgn: ENGINE,
      source: 1,
      destination: 255,
      bus: 0,
      bytes: counting(length),
    }]);
  });

  test("may interleave with others: of other senders, buses, PGNs and sequences", () => {
    const packets = [
      fastPacket(0, counting(26, 10), { pgn: ENGINE, source: 1 }),
      fastPacket(1, counting(26, 20), { pgn: ENGINE, source: 1 }),
      fastPacket(0, counting(26, 30), { pgn: ENGINE, source: 2 }),
      fastPacket(0, counting(26, 40), { pgn: ENGINE, source: 1, bus: 1 }),
      fastPacket(0, counting(26, 50), { pgn: 126996, source: 1 }),
    ];
    const frames = [0, 1, 2, 3].flatMap((index) => packets.map((packet) => packet[index]));
    const { messages, assembler } = assemble(frames);
    expect(messages.map((message) => message.bytes[0])).toEqual([10, 20, 30, 40, 50]);
    expect(assembler.openSessions).toBe(0);
  });

  test.each([0, 1, 2, 3])("with a hole at frame %i delivers nothing and is counted", (hole) => {
    const frames = fastPacket(2, counting(26), { pgn: ENGINE, source: 9, bus: 1 });
    const { messages, assembler } = assemble(frames.toSpliced(hole, 1));
    assembler.expire(SECOND);
    expect(messages).toEqual([]);
    expect(assembler.counts.lost).toBe(1);
    expect(assembler.counts.lostBySource[senderOf(1, 9)]).toBe(1);
    expect(assembler.openSessions).toBe(0);
  });

  test("begins anew when its number comes again", () => {
    const sender = { pgn: ENGINE, source: 9 };
    const { messages, assembler } = assemble([
      ...fastPacket(2, counting(26, 1), sender).slice(0, 2),
      ...fastPacket(2, counting(26, 2), sender),
    ]);
    expect(messages.map((message) => message.bytes)).toEqual([counting(26, 2)]);
    expect(assembler.counts.lost).toBe(1);
  });

  test("whose end was lost is not completed by the message that wears its number next", () => {
    const sender = { pgn: ENGINE, source: 9 };
    const { messages } = assemble([
      ...fastPacket(2, counting(26, 1), sender).slice(0, 2),
      ...fastPacket(6, counting(26, 5), sender),
      ...fastPacket(2, counting(26, 90), sender).slice(2),
    ]);
    expect(messages.map((message) => message.bytes[0])).toEqual([5]);
  });

  test.each([[26, 3], [13, 2]])(
    "of %i bytes survives a gateway that repeats each frame",
    (length, repeated) => {
      const frames = fastPacket(2, counting(length), { pgn: DC_DETAIL, source: 9 });
      const { messages, assembler } = assemble(frames.flatMap((frame) => [frame, frame]));
      expect(messages.map((message) => message.bytes)).toEqual([counting(length)]);
      expect(assembler.counts).toMatchObject({ lost: 0, repeated });
    },
  );

  test("of two frames whose first was lost is not taken for a repeat of the one before", () => {
    const [first, second] = fastPacket(2, counting(13), { pgn: DC_DETAIL, source: 9 });
    const later = { ...second, time: SECOND };
    const { assembler } = assemble([first, second, later]);
    expect(assembler.counts).toMatchObject({ lost: 1, repeated: 0 });
  });

  test("is not held up by a lost one before it that began with the same bytes", () => {
    const frames = fastPacket(0, counting(26), { pgn: ENGINE, source: 9 });
    const { messages } = assemble([
      frames[0],
      ...frames.map((frame) => ({ ...frame, time: SECOND })),
    ]);
    expect(messages).toHaveLength(1);
  });

  test("whose frames come out of order is a message with a hole", () => {
    const [first, second, third, fourth] = fastPacket(2, counting(26), { pgn: ENGINE, source: 9 });
    const { messages, assembler } = assemble([first, third, second, fourth]);
    expect(messages).toEqual([]);
    expect(assembler.counts.lost).toBeGreaterThan(0);
  });

  test.each([
    [FAST_PACKET_TIMEOUT, 1],
    [FAST_PACKET_TIMEOUT + 1, 0],
  ])("whose second frame comes after %i µs: %i messages", (time, count) => {
    const [first, ...rest] = fastPacket(2, counting(26), { pgn: ENGINE, source: 9 });
    const { messages } = assemble([first, ...rest.map((frame) => ({ ...frame, time }))]);
    expect(messages).toHaveLength(count);
  });

  test("to another address does not continue one", () => {
    const pgn = 0x1ed00;
    const rows = [{ ...ALL_ROWS[1], pgn }];
    const [first] = fastPacket(2, counting(12), { pgn, source: 9, destination: 1 });
    const [, second] = fastPacket(2, counting(12), { pgn, source: 9, destination: 2 });
    const { messages } = assemble([first, second], new MessageAssembler(new Columns(rows)));
    expect(messages).toEqual([]);
  });
});

describe("a single frame under a fast packet's PGN", () => {
  test.each([
    ["instance 0", [0, 0, 0x21, 0xf1, 0xff, 0xff]],
    ["instance 0, battery 2", [0, 2, 0x21, 0xf1, 0xff, 0xff]],
    ["instance 1", [1, 0, 0x21, 0xf1, 0xff, 0xff]],
    ["instance 1, padded", [1, 1, 0x29, 0xf1, 0xff, 0xff, 0xff, 0xff]],
    ["battery 6, not padded", [0, 6, 0x29, 0xf1, 0xff, 0xff]],
    ["one byte", [0]],
    ["no byte", []],
    ["a length beyond 223", [0, 224, 1, 2, 3, 4, 5, 6]],
  ])("is malformed, not decoded: %s", (_, data) => {
    const { messages, assembler } = assemble([{ pgn: CHARGER, source: 4, data }]);
    expect(messages).toEqual([]);
    expect(assembler.counts).toMatchObject({ malformed: 1, lost: 0 });
    expect(assembler.counts.malformedBySource[senderOf(0, 4)]).toBe(1);
  });

  test("leaves a message in the making alone", () => {
    const frames = fastPacket(0, counting(26), { pgn: ENGINE, source: 4 });
    const { messages } = assemble(
      frames.toSpliced(2, 0, { pgn: ENGINE, source: 4, data: [0, 0, 1, 2, 3, 4, 5, 6] }),
    );
    expect(messages).toHaveLength(1);
  });

  test("counts where a later frame is cut off", () => {
    const [first, second] = fastPacket(0, counting(26), { pgn: ENGINE, source: 4 });
    const { messages, assembler } = assemble([first, { ...second, data: second.data.slice(0, 7) }]);
    expect(messages).toEqual([]);
    expect(assembler.counts.malformed).toBe(1);
    expect(assembler.openSessions).toBe(0);
  });
});

test("more messages in the making than there is room for push out the oldest, counted", () => {
  const frames = Array.from({ length: MOST_SESSIONS + 1 }, (_, i) => {
    const sender = { pgn: ENGINE, source: i & 0xff, bus: i >> 8, time: i };
    return fastPacket(0, counting(7), sender);
  });
  const { messages, assembler } = assemble([
    ...frames.map(([a]) => a),
    ...frames.map(([, b]) => b),
  ]);
  expect(messages).toHaveLength(MOST_SESSIONS);
  expect(assembler.counts.lostBySource[senderOf(0, 0)]).toBe(2);
});

test("random frames never throw, and what is in the making stays bounded", () => {
  const frame = fc.record({
    pgn: fc.constantFrom(...ALL_ROWS.map((row) => row.pgn), 0xef00, 0x1ff00),
    source: fc.nat(255),
    bus: fc.nat(15),
    flags: fc.nat(15),
    time: fc.nat(5 * SECOND),
    data: fc.array(fc.nat(255), { maxLength: 8 }),
  });
  const assembler = new MessageAssembler(columns);
  fc.assert(fc.property(fc.array(frame, { maxLength: 200 }), (frames) => {
    for (const { bytes } of assemble(frames, assembler).messages) {
      expect(bytes.length).toBeLessThanOrEqual(223);
    }
    expect(assembler.openSessions).toBeLessThanOrEqual(MOST_SESSIONS);
  }));
});

test("interleaved senders with holes never yield a mixture, and lose only what has a hole", () => {
  // Every byte of a message tells which message it belongs to.
  const script = fc.record({
    picks: fc.infiniteStream(fc.nat(2)),
    lost: fc.array(fc.nat(200), { maxLength: 12 }),
  });
  fc.assert(fc.property(script, ({ picks, lost }) => {
    const lanes = [0, 1, 2].map((source) =>
      counting(12).flatMap((number) =>
        fastPacket(number & 7, Array(26).fill(source * 64 + number), { pgn: ENGINE, source })
          .map((frame) => ({ ...frame, number }))
      )
    );
    const holes = new Set<string>();
    const frames: Frame[] = [];
    for (let time = 0; lanes.some((lane) => lane.length > 0); time++) {
      const lane = lanes[picks.next().value ?? 0];
      const frame = lane.shift() ?? lanes.find((other) => other.length > 0)?.shift();
      if (frame === undefined) continue;
      if (lost.includes(time)) holes.add(`${frame.source}-${frame.number}`);
      else frames.push({ ...frame, time: time * 10 * MILLISECOND });
    }
    const { messages } = assemble(frames);
    for (const { source, bytes } of messages) {
      expect(new Set(bytes).size).toBe(1);
      expect(bytes[0] >> 6).toBe(source);
    }
    expect(messages).toHaveLength(36 - holes.size);
  }));
});
