import type { Micros } from "../ground/time.ts";
import { FrameBatch } from "./frame-batch.ts";
import type { FrameParser } from "./frame-parser.ts";
import { type FrameSource, SourceEndedEarly } from "./frame-source.ts";
import type { SourceTally } from "./source-tally.ts";

/** Frames a batch holds where nobody asks for another size: about half a second of a full bus. */
export const USUAL_BATCH = 1024;

/** Bytes as they come. `close` ends `pieces` soon, also while it waits for more. */
export interface ByteStream {
  /** How many have come so far: of a file that is packed, the packed ones. */
  readonly taken?: number;
  pieces(): AsyncIterable<Uint8Array>;
  close(): void;
}

export interface ParsedSourceParts {
  readonly title: string;
  /** A live source hands on what has come; a recording fills its batches. */
  readonly live: boolean;
  /** See `FrameSource`. */
  readonly lateness?: Micros;
  readonly stampedHere?: boolean;
  readonly bytes: ByteStream;
  readonly parser: FrameParser;
  /** The one that the parser counts in. */
  readonly tally: SourceTally;
  readonly batchSize?: number;
}

/** A source whose frames are parsed from bytes: a recording, standard input, a connection. */
export class ParsedSource implements FrameSource {
  readonly title: string;
  readonly live: boolean;
  readonly lateness: Micros | undefined;
  readonly stampedHere: boolean | undefined;
  readonly #bytes: ByteStream;
  readonly #parser: FrameParser;
  readonly #tally: SourceTally;
  readonly #batch: FrameBatch;
  #stopped = false;

  constructor(parts: ParsedSourceParts) {
    this.title = parts.title;
    this.live = parts.live;
    this.lateness = parts.lateness;
    this.stampedHere = parts.stampedHere;
    this.#bytes = parts.bytes;
    this.#parser = parts.parser;
    this.#tally = parts.tally;
    this.#batch = new FrameBatch(parts.batchSize ?? USUAL_BATCH);
  }

  get counts() {
    return this.#tally.counts;
  }

  get problems() {
    return this.#tally.problems;
  }

  get bytesTaken() {
    return this.#bytes.taken;
  }

  stop(): void {
    this.#stopped = true;
    this.#bytes.close();
  }

  /** To be read once. */
  async *batches(): AsyncGenerator<FrameBatch> {
    const batch = this.#batch;
    let cut: string | undefined;
    try {
      for await (const bytes of this.#bytes.pieces()) {
        for (let at = 0; at < bytes.length && !this.#stopped;) {
          at = this.#parser.parse(bytes, at, batch);
          if (batch.full || (this.live && batch.count > 0)) {
            yield batch;
            batch.count = 0;
          }
        }
        if (this.#stopped) return;
      }
      if (this.#stopped) return;
      cut = this.#parser.end(batch);
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      if (this.#stopped) return;
      cut = error.message;
    }
    if (batch.count > 0) yield batch;
    if (cut !== undefined) throw new SourceEndedEarly(`${this.title} ${cut}`);
  }
}
