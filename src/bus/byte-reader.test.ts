import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bytesInPieces } from "../../tests/support/frames.ts";
import { ByteReader } from "./byte-reader.ts";

const BYTES = new Uint8Array(100).map((_, index) => index);

describe("a reader of bytes", () => {
  test("gives every byte once and in order, however they are asked for", async () => {
    const ask = fc.record({
      how: fc.constantFrom("peek", "take", "piece", "unread"),
      count: fc.integer({ min: 0, max: 30 }),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(ask, { maxLength: 20 }),
        fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1 }),
        async (asks, sizes) => {
          const reader = new ByteReader(bytesInPieces(BYTES, sizes).pieces());
          const seen: number[] = [];
          for (const { how, count } of asks) {
            if (how === "peek") {
              const expected = BYTES.slice(seen.length, seen.length + count);
              expect(await reader.peek(count)).toEqual(expected);
            } else if (how === "take") {
              seen.push(...await reader.take(count));
            } else {
              const piece = await reader.piece() ?? new Uint8Array(0);
              const kept = how === "unread" ? piece.subarray(0, count) : piece;
              reader.unread(piece.subarray(kept.length));
              seen.push(...kept);
            }
          }
          for await (const piece of reader.rest()) seen.push(...piece);
          expect(seen).toEqual([...BYTES]);
        },
      ),
    );
  });

  test("gives fewer bytes at the end", async () => {
    const reader = new ByteReader(bytesInPieces(BYTES.subarray(0, 3)).pieces());
    expect(await reader.peek(5)).toHaveLength(3);
    expect(await reader.take(5)).toHaveLength(3);
    expect(await reader.take(5)).toHaveLength(0);
    expect(await reader.piece()).toBeUndefined();
  });
});
