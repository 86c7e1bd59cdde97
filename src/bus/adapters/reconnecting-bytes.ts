import type { LiveParts } from "../live-parts.ts";
import type { ByteStream } from "../parsed-source.ts";
import { QuietLine } from "./quiet-line.ts";

export interface ReconnectingParts extends Pick<LiveParts, "delay" | "sleep" | "told"> {
  /** Opens a connection; rejects if it cannot be had now, or when the signal aborts. */
  readonly connect: (signal: AbortSignal) => Promise<ByteStream>;
  /** What stands in the stream where a connection ended after this byte. */
  readonly joint: (last: number) => Uint8Array;
}

/**
 * Bytes of a connection that is made again whenever it ends, until it is closed. A connection that
 * ends before it gave any byte counts as a failed attempt, so that a server which accepts and hangs
 * up is not asked without a pause. One that fell quiet is made anew at once, and nobody is told of it
 * unless that fails.
 */
export class ReconnectingBytes implements ByteStream {
  readonly #parts: ReconnectingParts;
  readonly #closing = new AbortController();
  #current: ByteStream | undefined;

  constructor(parts: ReconnectingParts) {
    this.#parts = parts;
  }

  close(): void {
    this.#closing.abort();
    this.#current?.close();
  }

  async *pieces(): AsyncGenerator<Uint8Array> {
    const { connect, delay, sleep, told, joint } = this.#parts;
    const { signal } = this.#closing;
    let fellQuiet = false;
    for (let attempt = 1; !signal.aborted; attempt++) {
      let last: number | undefined;
      let kind: "refused" | "lost" = fellQuiet ? "lost" : "refused";
      let reason = "the other side closed the connection";
      try {
        this.#current = await connect(signal);
        kind = "lost";
        if (!fellQuiet) told?.({ kind: "connected" });
        fellQuiet = false;
        for await (const piece of this.#current.pieces()) {
          attempt = 0;
          last = piece.at(-1) ?? last;
          yield piece;
        }
      } catch (error) {
        fellQuiet = error instanceof QuietLine;
        reason = error instanceof Error ? error.message : String(error);
      } finally {
        this.#current?.close();
        this.#current = undefined;
      }
      if (signal.aborted) return;
      if (last !== undefined) yield joint(last);
      if (fellQuiet) {
        attempt = 0;
        continue;
      }
      const retryIn = delay(Math.max(1, attempt));
      told?.({ kind, reason, retryIn });
      await sleep(retryIn, signal);
    }
  }
}
