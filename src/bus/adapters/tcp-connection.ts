import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, MINUTE, SECOND } from "../../ground/time.ts";
import type { LiveParts } from "../live-parts.ts";
import type { ByteStream } from "../parsed-source.ts";
import { sayConnectionTrouble } from "./connection-words.ts";
import { QuietLine } from "./quiet-line.ts";

export interface TcpAddress extends Pick<LiveParts, "clock" | "sleep"> {
  readonly host: string;
  readonly port: number;
}

/** A gateway on the boat's own network answers at once; without power it does not answer at all. */
export const ANSWER_WITHIN: Micros = 10 * SECOND;
/** A live NMEA 2000 bus is never silent for so long. */
export const QUIET_AFTER: Micros = MINUTE;
/**
 * Bytes are taken this often while they flow: most of what a full bus costs is the waking, which for
 * each piece by itself would be six times as often.
 */
const DRAIN_EVERY: Micros = 20 * MILLISECOND;
const PIECE = 64 * 1024;

/**
 * Bytes from a TCP server. An edge: it opens sockets.
 * @throws {Error} with a clause, where no connection can be had now
 */
export async function connectTcp(address: TcpAddress, closing: AbortSignal): Promise<ByteStream> {
  const { clock, host, port, sleep } = address;
  const answered = new AbortController();
  const patience = new AbortController();
  void sleep(ANSWER_WITHIN, answered.signal).then(() => patience.abort());
  try {
    const signal = AbortSignal.any([closing, patience.signal]);
    const connection = await Deno.connect({ hostname: host, port, signal });
    return new TcpBytes(connection, clock, sleep);
  } catch (error) {
    throw new Error(patience.signal.aborted ? "nobody answers there" : sayConnectionTrouble(error));
  } finally {
    answered.abort();
  }
}

class TcpBytes implements ByteStream {
  readonly #closing = new AbortController();
  /** When we began to wait for more; Infinity while there is something to do. */
  #waitingSince: Micros = Infinity;
  #isQuiet = false;

  constructor(
    readonly connection: Deno.Conn,
    readonly clock: Clock,
    readonly sleep: LiveParts["sleep"],
  ) {
    void this.#closeWhenQuiet();
  }

  close(): void {
    if (this.#closing.signal.aborted) return;
    this.#closing.abort();
    this.connection.close();
  }

  /** @throws {QuietLine} */
  async *pieces(): AsyncGenerator<Uint8Array> {
    const buffer = new Uint8Array(PIECE);
    const { signal } = this.#closing;
    while (!signal.aborted) {
      const length = await this.#read(buffer);
      if (length === null) return;
      yield buffer.subarray(0, length);
      // A whole piece: there is more, and it is late.
      if (length < PIECE) await this.sleep(DRAIN_EVERY, signal);
    }
  }

  async #read(buffer: Uint8Array): Promise<number | null> {
    this.#waitingSince = this.clock.steady();
    try {
      return await this.connection.read(buffer);
    } catch (error) {
      throw this.#isQuiet ? new QuietLine() : new Error(sayConnectionTrouble(error));
    } finally {
      this.#waitingSince = Infinity;
    }
  }

  async #closeWhenQuiet(): Promise<void> {
    const { signal } = this.#closing;
    while (!signal.aborted) {
      const left = this.#waitingSince + QUIET_AFTER - this.clock.steady();
      this.#isQuiet = left <= 0;
      if (this.#isQuiet) this.close();
      else await this.sleep(Math.min(left, QUIET_AFTER), signal);
    }
  }
}
