import { Buffer } from "node:buffer";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bytesInPieces, joined } from "../../../tests/support/frames.ts";
import { ByteReader } from "../byte-reader.ts";
import { SourceEndedEarly } from "../frame-source.ts";
import { gunzipped } from "./gunzip.ts";

const TEXT = new TextEncoder().encode("(1538388000.035000) can0 0CF00400#F0FF\n".repeat(30_000));
const PACKED = pack(TEXT);
const GARBAGE = new TextEncoder().encode("left over");

function pack(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  return new Uint8Array(gzipSync(bytes));
}

/** A comparison by element of a megabyte takes a second. */
function same(a: Uint8Array, b: Uint8Array): boolean {
  return Buffer.compare(a, b) === 0;
}

async function unpack(packed: Uint8Array, sizes?: readonly number[]) {
  const pieces: Uint8Array[] = [];
  const trailing: string[] = [];
  const reader = new ByteReader(bytesInPieces(packed, sizes).pieces());
  let error: unknown;
  try {
    for await (const piece of gunzipped(reader, (found) => trailing.push(found))) {
      pieces.push(piece.slice());
    }
  } catch (thrown) {
    error = thrown;
  }
  return { bytes: joined(pieces), trailing, error };
}

describe("packed data", () => {
  test.each([[[1]], [[3, 1000]], [[PACKED.length - 8, 100]], [[1_000_000]]])(
    "comes out whole in pieces of %j bytes",
    async (sizes) => {
      const { bytes, trailing, error } = await unpack(PACKED, sizes);
      expect(error).toBeUndefined();
      expect(trailing).toEqual([]);
      expect(same(bytes, TEXT)).toBe(true);
    },
  );

  test("may have several members, empty ones too", async () => {
    const { bytes, error } = await unpack(joined([PACKED, pack(new Uint8Array(0)), PACKED]));
    expect(error).toBeUndefined();
    expect(same(bytes, joined([TEXT, TEXT]))).toBe(true);
  });

  test("may name its file and carry other fields in its header", async () => {
    const fields = new Uint8Array([2, 0, 9, 9, 0x61, 0, 0x62, 0, 1, 2]);
    const header = PACKED.slice(0, 10);
    header[3] = 2 | 4 | 8 | 16;
    const { bytes, error } = await unpack(joined([header, fields, PACKED.subarray(10)]), [1]);
    expect(error).toBeUndefined();
    expect(same(bytes, TEXT)).toBe(true);
  });

  test.each([[[1]], [[1000]], [[PACKED.length]], [[PACKED.length - 8]], [[1_000_000]]])(
    "loses nothing to what follows it, and tells of that (pieces of %j)",
    async (sizes) => {
      const { bytes, trailing, error } = await unpack(joined([PACKED, GARBAGE]), sizes);
      expect(error).toBeUndefined();
      expect(same(bytes, TEXT)).toBe(true);
      expect(trailing).toEqual(["left over"]);
    },
  );

  test("cut off anywhere gives a beginning of what was packed, and then says so", async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: PACKED.length - 1 }), async (length) => {
        const { bytes, error } = await unpack(PACKED.subarray(0, length));
        expect(error).toBeInstanceOf(SourceEndedEarly);
        expect(same(bytes, TEXT.subarray(0, bytes.length))).toBe(true);
      }),
    );
  });

  test("cut off near its end gives nearly everything", async () => {
    const { bytes } = await unpack(PACKED.subarray(0, PACKED.length - 8));
    expect(same(bytes, TEXT)).toBe(true);
  });

  test("with a wrong checksum is given and then called damaged", async () => {
    const wrong = PACKED.slice();
    wrong[wrong.length - 6] ^= 1;
    const { bytes, error } = await unpack(wrong);
    expect(same(bytes, TEXT)).toBe(true);
    expect(String(error)).toContain("damaged");
  });

  test("damaged anywhere ends in the documented error or none", async () => {
    const noise = new Uint8Array(4000).map((_, index) => (index * 7919) >> 3);
    const packed = pack(noise);
    await fc.assert(
      fc.asyncProperty(
        fc.nat(packed.length - 1),
        fc.integer({ min: 1, max: 255 }),
        async (at, by) => {
          const wrong = packed.slice();
          wrong[at] ^= by;
          const { error } = await unpack(wrong, [700]);
          if (error !== undefined) expect(error).toBeInstanceOf(SourceEndedEarly);
        },
      ),
    );
  });
});
