import { sayWhy } from "../ground/say-why.ts";
import { CannotOpenInput } from "./cannot-open-input.ts";
import { SourceEndedEarly } from "./frame-source.ts";
import type { ByteStream } from "./parsed-source.ts";

/** Bytes read from a file at a time, into two buffers by turns. */
const FILE_PIECE = 256 * 1024;

/** The bytes of a file, which is opened when they are asked for. An edge: it reads the disk. */
export function fileBytes(file: string): ByteStream {
  let closed = false;
  let taken = 0;
  async function* pieces(): AsyncGenerator<Uint8Array> {
    using opened = await openForReading(file);
    let [buffer, other] = [new Uint8Array(FILE_PIECE), new Uint8Array(FILE_PIECE)];
    let reading = readSome(opened, buffer);
    try {
      while (!closed) {
        const length = await reading;
        if (length === null) return;
        taken += length;
        const piece = buffer.subarray(0, length);
        [buffer, other] = [other, buffer];
        // While the one piece is worked on, the next is read.
        reading = readSome(opened, buffer);
        // It fails when it is waited for, not before.
        reading.catch(() => {});
        yield piece;
      }
    } finally {
      await reading.catch(() => {});
    }
  }
  return {
    pieces,
    close: () => closed = true,
    get taken() {
      return taken;
    },
  };
}

/** The bytes of a stream that somebody else opened: standard input, a connection. */
export function streamBytes(stream: ReadableStream<Uint8Array>): ByteStream {
  const reader = stream.getReader();
  async function* pieces(): AsyncGenerator<Uint8Array> {
    for (let next = await reader.read(); !next.done; next = await reader.read()) yield next.value;
  }
  // A stream that failed already has nothing left to cancel.
  return { pieces, close: () => void reader.cancel().catch(() => {}) };
}

async function openForReading(file: string): Promise<Deno.FsFile> {
  try {
    return await Deno.open(file);
  } catch (error) {
    throw cannotRead(file, error);
  }
}

/** A card that fails in the middle of a file must not take the frames before it along. */
async function readSome(file: Deno.FsFile, buffer: Uint8Array): Promise<number | null> {
  try {
    return await file.read(buffer);
  } catch (error) {
    throw new SourceEndedEarly(`cannot be read any further (${sayWhy(error)})`);
  }
}

/** The sentence for a file or folder that the operating system does not give us. */
export function cannotRead(place: string, error: unknown): CannotOpenInput {
  if (error instanceof Deno.errors.NotFound) {
    return new CannotOpenInput(`There is no file or folder ${place}.`);
  }
  return new CannotOpenInput(`${place} cannot be read (${sayWhy(error)}).`);
}
