import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ControlMessages } from "./control-messages.ts";

interface Message {
  readonly level: number;
  readonly type: number;
  readonly data: readonly bigint[];
  /** Bytes of data; the whole of `data` when not given. */
  readonly length?: number;
}

function bytesOf(...messages: Message[]): DataView {
  const words = messages.flatMap(({ level, type, data, length }) => [
    BigInt(16 + (length ?? data.length * 8)),
    BigInt(level) | (BigInt(type) << 32n),
    ...data,
  ]);
  return new DataView(new BigInt64Array(words).buffer);
}

function read(bytes: DataView, length = bytes.byteLength): ControlMessages {
  const messages = new ControlMessages();
  messages.read(bytes, 0, length);
  return messages;
}

const stamped: Message = { level: 1, type: 35, data: [1_781_431_200n, 123_456_999n] };
const dropped: Message = { level: 1, type: 40, data: [4_294_967_295n], length: 4 };

describe("control messages", () => {
  test("carry the kernel's stamp, cut to whole microseconds", () => {
    expect(read(bytesOf(stamped)).stamp).toBe(1_781_431_200_123_456);
  });

  test("carry the frames dropped so far", () => {
    const both = read(bytesOf(stamped, dropped));
    expect(both.dropped).toBe(4_294_967_295);
    expect(both.stamp).toBe(1_781_431_200_123_456);
  });

  test("may come in any order, among others that are passed over", () => {
    const other: Message = { level: 101, type: 35, data: [7n, 7n] };
    const all = read(bytesOf(other, dropped, stamped));
    expect(all).toMatchObject({ dropped: 4_294_967_295, stamp: 1_781_431_200_123_456 });
  });

  test("that are missing leave nothing of the frame before", () => {
    const messages = new ControlMessages();
    messages.read(bytesOf(stamped, dropped), 0, 56);
    messages.read(bytesOf(stamped), 0, 0);
    expect(messages).toMatchObject({ dropped: undefined, stamp: undefined });
  });

  test("that are cut short are passed over", () => {
    expect(read(bytesOf(stamped), 24).stamp).toBeUndefined();
    expect(read(bytesOf(stamped, dropped), 40).stamp).toBe(1_781_431_200_123_456);
  });

  test("of any content are read to their end", () => {
    fc.assert(fc.property(fc.uint8Array({ minLength: 64, maxLength: 64 }), (bytes) => {
      read(new DataView(bytes.slice().buffer));
    }));
  });
});
