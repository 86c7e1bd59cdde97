import { crc32, createInflateRaw } from "node:zlib";
import type { ByteReader } from "../byte-reader.ts";
import { SourceEndedEarly } from "../frame-source.ts";
import { printable } from "../printable.ts";

/** Packed bytes given to zlib at a time; 16 kB unpack to 16 MB at the very most. */
const PACKED_PIECE = 16 * 1024;
/** Bytes that zlib unpacks at a time. */
const UNPACKED_PIECE = 256 * 1024;

const HEADER_LENGTH = 10;
const TRAILER_LENGTH = 8;
const DEFLATE = 8;
/** Bits of the header's flags (RFC 1952, section 2.3.1). */
const HEADER_CHECK = 2;
const EXTRA_FIELD = 4;
const FILE_NAME = 8;
const COMMENT = 16;

export function isGzip(head: Uint8Array): boolean {
  return head.length >= 2 && head[0] === 0x1f && head[1] === 0x8b;
}

/**
 * Unpacks gzip (RFC 1952), any number of members one after another. Everything readable comes out
 * before anything is said against it: `createGunzip` of node:zlib loses up to its last 256 kB where
 * the file is followed by other bytes, so only the packed data inside each member is left to zlib.
 *
 * `trailing` is told of bytes behind the last member, as a person can read them.
 * @throws {SourceEndedEarly} where the packed data is cut off or damaged, as a clause: "is cut off"
 */
export async function* gunzipped(
  packed: ByteReader,
  trailing: (found: string) => void,
): AsyncGenerator<Uint8Array> {
  try {
    do {
      await skipHeader(packed);
      let check = 0;
      for await (const piece of inflated(packed)) {
        check = crc32(piece, check);
        yield piece;
      }
      const trailer = await exactly(packed, TRAILER_LENGTH);
      if (new DataView(trailer.buffer).getUint32(0, true) !== check) {
        throw new SourceEndedEarly("is damaged: the checksum of the packed data does not agree");
      }
    } while (isGzip(await packed.peek(2)));
    const more = await packed.peek(61);
    if (more.length > 0) trailing(printable(more));
  } finally {
    await packed.close();
  }
}

async function exactly(packed: ByteReader, count: number): Promise<Uint8Array<ArrayBuffer>> {
  const bytes = await packed.take(count);
  if (bytes.length < count) throw cutOff();
  return bytes;
}

function cutOff(): SourceEndedEarly {
  return new SourceEndedEarly("is cut off: its packed data ends in the middle");
}

async function skipHeader(packed: ByteReader): Promise<void> {
  const header = await exactly(packed, HEADER_LENGTH);
  if (header[2] !== DEFLATE) {
    throw new SourceEndedEarly("is damaged: its packed data begins with an unknown method");
  }
  const flags = header[3];
  if ((flags & EXTRA_FIELD) !== 0) {
    const length = await exactly(packed, 2);
    await exactly(packed, length[0] | (length[1] << 8));
  }
  if ((flags & FILE_NAME) !== 0) await skipText(packed);
  if ((flags & COMMENT) !== 0) await skipText(packed);
  if ((flags & HEADER_CHECK) !== 0) await exactly(packed, 2);
}

/** Text in a header ends with a zero byte. */
async function skipText(packed: ByteReader): Promise<void> {
  for (let piece = await packed.piece(); piece !== undefined; piece = await packed.piece()) {
    const end = piece.indexOf(0);
    if (end < 0) continue;
    packed.unread(piece.subarray(end + 1));
    return;
  }
  throw cutOff();
}

/** What the deflated data of one member holds; takes just its bytes from `packed`. */
async function* inflated(packed: ByteReader): AsyncGenerator<Uint8Array> {
  const inflate = createInflateRaw({ chunkSize: UNPACKED_PIECE });
  let ready: Uint8Array[] = [];
  let damage: Error | undefined;
  let ended = false;
  inflate.on("data", (piece: Uint8Array) => ready.push(piece));
  inflate.on("error", (error: Error) => damage = error);
  inflate.on("end", () => ended = true);
  try {
    for (let given = 0;;) {
      const piece = await packed.piece();
      if (piece === undefined) throw cutOff();
      const part = piece.subarray(0, PACKED_PIECE);
      await new Promise<void>((done) => inflate.write(part, () => done()));
      given += part.length;
      const used = part.length - (given - inflate.bytesWritten);
      packed.unread(piece.subarray(used));
      const pieces = ready;
      ready = [];
      yield* pieces;
      if (damage !== undefined) throw new SourceEndedEarly("is damaged: its packed data is wrong");
      if (ended || used < part.length) return;
    }
  } finally {
    inflate.destroy();
  }
}
