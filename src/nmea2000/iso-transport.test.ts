import fc from "fast-check";
import { expect, test } from "vitest";
import { FrameBatch } from "../bus/frame-batch.ts";
import { SECOND } from "../ground/time.ts";
import { identifierOf } from "./identifier.ts";
import {
  BROADCAST_TIMEOUT,
  IsoTransport,
  MOST_TRANSPORTS,
  TRANSPORT_CONTROL,
  TRANSPORT_DATA,
} from "./iso-transport.ts";
import { MessageCounts } from "./message-counts.ts";

interface Frame {
  readonly source: number;
  readonly control?: boolean;
  readonly destination?: number;
  readonly data: readonly number[];
}

function transport() {
  const isoTransport = new IsoTransport(new MessageCounts());
  const batch = new FrameBatch(1);
  return {
    isoTransport,
    /** The bytes of a completed message. */
    send({ source, control = false, destination, data }: Frame, now = 0) {
      const pgn = control ? TRANSPORT_CONTROL : TRANSPORT_DATA;
      batch.identifiers[0] = identifierOf({ priority: 7, pgn, source, destination });
      batch.lengths[0] = data.length;
      batch.data.set(data);
      if (control) {
        isoTransport.control(batch, 0, now);
        return undefined;
      }
      if (!isoTransport.data(batch, 0, now)) return undefined;
      const { buffer, start, length } = isoTransport;
      return [...buffer.subarray(start, start + length)];
    },
  };
}

const announce = (source: number, total: number): Frame => ({
  source,
  control: true,
  data: [32, total & 0xff, total >> 8, Math.ceil(total / 7), 0xff, 0xca, 0xfe, 0],
});
const packet = (source: number, number: number, byte = source): Frame => ({
  source,
  data: [number, ...Array(7).fill(byte)],
});

test("broadcasts of several senders interleave", () => {
  const { send } = transport();
  const sources = [3, 4, 5, 6, 7];
  for (const source of sources) send(announce(source, 14));
  for (const source of sources) expect(send(packet(source, 1))).toBeUndefined();
  for (const source of sources) expect(send(packet(source, 2))).toEqual(Array(14).fill(source));
});

test("the longest message, 1785 bytes, arrives whole", () => {
  const { send } = transport();
  send(announce(3, 1785));
  for (let number = 1; number < 255; number++) send(packet(3, number, number));
  const bytes = send(packet(3, 255));
  expect(bytes).toHaveLength(1785);
  expect(bytes?.[7 * 253]).toBe(254);
});

test("a broadcast that is announced again begins anew, and the first is counted as lost", () => {
  const { send, isoTransport } = transport();
  send(announce(3, 14));
  send(packet(3, 1, 1));
  send(announce(3, 14));
  expect(send(packet(3, 2, 2))).toBeUndefined();
  expect(isoTransport.counts.lost).toBe(2);
});

test("a broadcast whose next packet is overdue is given up", () => {
  for (const [delay, lost] of [[BROADCAST_TIMEOUT, 0], [BROADCAST_TIMEOUT + 1, 1]]) {
    const { send, isoTransport } = transport();
    send(announce(3, 14));
    send(packet(3, 1), delay);
    expect(isoTransport.counts.lost).toBe(lost);
    isoTransport.expire(10 * SECOND);
    expect([isoTransport.counts.lost, isoTransport.openCount]).toEqual([1, 0]);
  }
});

test("an announcement whose packets do not make its length is malformed", () => {
  const { send, isoTransport } = transport();
  send({ source: 3, control: true, data: [32, 14, 0, 3, 0xff, 0xca, 0xfe, 0] });
  send({ source: 3, control: true, data: [32, 0, 0, 0, 0xff, 0xca, 0xfe, 0] });
  send({ source: 3, control: true, destination: 9, data: [32, 14, 0, 2, 0xff, 0xca, 0xfe, 0] });
  send({ source: 3, control: true, data: [32, 14, 0, 2] });
  expect(isoTransport.counts.malformed).toBe(4);
  expect(isoTransport.openCount).toBe(0);
});

test("what its two give up, or nobody answers, is nothing that the bus lost", () => {
  const ask: Frame = {
    source: 3,
    control: true,
    destination: 9,
    data: [16, 14, 0, 2, 2, 0xca, 0xfe, 0],
  };
  const { send, isoTransport } = transport();
  for (const abort of [{ source: 3, destination: 9 }, { source: 9, destination: 3 }]) {
    send(ask);
    send({ ...packet(3, 1), destination: 9 });
    send({ ...abort, control: true, data: [255, 2, 255, 255, 255, 0xca, 0xfe, 0] });
  }
  send(ask);
  isoTransport.expire(10 * SECOND);
  expect([isoTransport.counts.lost, isoTransport.openCount]).toEqual([0, 0]);
});

test("random frames never throw, and what is under way stays bounded", () => {
  const { send, isoTransport } = transport();
  const frame = fc.record({
    source: fc.nat(255),
    control: fc.boolean(),
    destination: fc.nat(255),
    data: fc.oneof(
      fc.array(fc.nat(255), { maxLength: 8 }),
      fc.tuple(
        fc.constantFrom(16, 17, 19, 32, 255),
        fc.nat(40),
        fc.constant(0),
        fc.nat(6),
        fc.constant(255),
        fc.constant(0xca),
        fc.constant(0xfe),
        fc.constant(0),
      ),
    ),
  });
  fc.assert(fc.property(fc.array(frame, { maxLength: 200 }), fc.nat(SECOND), (frames, now) => {
    for (const one of frames) expect(send(one, now)?.length ?? 0).toBeLessThanOrEqual(1785);
    expect(isoTransport.openCount).toBeLessThanOrEqual(MOST_TRANSPORTS);
  }));
});

test("a gateway that repeats every frame loses nothing", () => {
  const { send, isoTransport } = transport();
  const frames = [announce(3, 21), packet(3, 1, 1), packet(3, 2, 2), packet(3, 3, 3)];
  const completed = frames.flatMap((frame) => [send(frame), send(frame)])
    .filter((bytes) => bytes !== undefined);
  expect(completed).toEqual([[...Array(7).fill(1), ...Array(7).fill(2), ...Array(7).fill(3)]]);
  expect(isoTransport.counts).toMatchObject({ lost: 0, repeated: 3 });
});

test("a packet that comes again with other bytes is no repeat, and the broadcast is lost", () => {
  const { send, isoTransport } = transport();
  for (const frame of [announce(3, 21), packet(3, 1, 1), packet(3, 1, 2)]) send(frame);
  expect(isoTransport.counts).toMatchObject({ lost: 1, repeated: 0 });
});

test("a device that asks to send twice, because nobody answered yet, has lost nothing", () => {
  const { send, isoTransport } = transport();
  const ask: Frame = {
    source: 3,
    control: true,
    destination: 9,
    data: [16, 14, 0, 2, 2, 0xca, 0xfe, 0],
  };
  send(ask);
  send(ask);
  send({ source: 3, destination: 9, data: [1, ...Array(7).fill(3)] });
  expect(send({ source: 3, destination: 9, data: [2, ...Array(7).fill(3)] })).toHaveLength(14);
  expect(isoTransport.counts.lost).toBe(0);
});
