import type { Clock } from "../../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../../ground/time.ts";
import type { LiveParts } from "../../live-parts.ts";
import type { ByteStream } from "../../parsed-source.ts";
import { sayErrno } from "../linux/errno.ts";
import { mayComeMore, type SerialPort } from "../linux/serial-port.ts";

const RETURN = 0x0d;
const BELL = 0x07;
/** An adapter that has not answered by then does not answer commands. */
const ANSWER_WITHIN_MS = 300;
/** An adapter that was left open goes on with frames until it is shut. */
const QUIET_MS = 50;
const MOST_TURNS = 100;
/** How often the adapter is asked what it lost. */
const ASK_EVERY: Micros = SECOND;
/** Bytes are taken this often while they flow, rather than each by itself. */
const DRAIN_EVERY: Micros = 10 * MILLISECOND;
const PIECE = 4096;

export interface SlcanStreamParts extends Pick<LiveParts, "sleep"> {
  readonly port: SerialPort;
  readonly clock: Clock;
  readonly closing: AbortSignal;
  /** Looks at the clocks whenever the stream is awake. */
  readonly looked: () => void;
}

/**
 * An opened adapter: bytes of its lines. It only listens (`L`): an adapter that took part would
 * acknowledge other devices' frames, and hide that nobody else does.
 */
export class SlcanStream implements ByteStream {
  readonly #parts: SlcanStreamParts;
  readonly #buffer = new Uint8Array(PIECE);
  /** What came behind the last answer. */
  #ahead = new Uint8Array(0);
  #closed = false;

  constructor(parts: SlcanStreamParts) {
    this.#parts = parts;
  }

  /**
   * Opens the adapter's channel. Stamps (`Z1`) are taken where the adapter has them.
   * @param bitRate the command for it, `S5`
   * @throws {Error} with a clause, where the adapter refuses
   */
  async open(bitRate: string): Promise<void> {
    await this.#shut();
    await this.#command("Z1");
    if (await this.#command(bitRate) === "refused") {
      throw new Error(`the adapter refuses the bit rate (${bitRate})`);
    }
    if (await this.#command("L") === "refused") {
      throw new Error("the adapter cannot listen without taking part in the bus (command L)");
    }
  }

  close(): void {
    this.#closed = true;
    this.#parts.port.wake();
  }

  async *pieces(): AsyncGenerator<Uint8Array> {
    const { port, clock, sleep, closing, looked } = this.#parts;
    try {
      if (this.#ahead.length > 0) yield this.#ahead;
      let askAt = clock.steady() + ASK_EVERY;
      while (!this.#closed) {
        const count = port.read(this.#buffer);
        if (!mayComeMore(count)) throw new Error(whyGone(count));
        looked();
        if (clock.steady() >= askAt) {
          askAt = clock.steady() + ASK_EVERY;
          port.write("F\r");
        }
        if (count > 0) {
          yield this.#buffer.subarray(0, count);
          await sleep(DRAIN_EVERY, closing);
        } else {
          await port.wait(ASK_EVERY / MILLISECOND);
        }
      }
    } finally {
      port.write("C\r");
      await port.close();
    }
  }

  /** Sends a command and waits for its answer; what comes behind the answer is kept. */
  async #command(command: string): Promise<"done" | "refused" | "no answer"> {
    if (!this.#parts.port.write(`${command}\r`)) throw new Error("the adapter takes no command");
    for (;;) {
      const found = await this.#within(ANSWER_WITHIN_MS);
      if (found.length === 0) return "no answer";
      const at = found.findIndex((byte) => byte === RETURN || byte === BELL);
      if (at < 0) continue;
      this.#ahead = found.slice(at + 1);
      return found[at] === RETURN ? "done" : "refused";
    }
  }

  /** Shuts the channel, and waits until the adapter has nothing more to say. */
  async #shut(): Promise<void> {
    if (!this.#parts.port.write("\rC\r")) throw new Error("the adapter takes no command");
    for (let turn = 0; turn < MOST_TURNS; turn++) {
      if ((await this.#within(QUIET_MS)).length === 0) return;
    }
  }

  /** The bytes that come next, none if nothing comes for so long. */
  async #within(milliseconds: number): Promise<Uint8Array> {
    const { port } = this.#parts;
    let count = port.read(this.#buffer);
    if (count <= 0 && mayComeMore(count) && !this.#closed) {
      await port.wait(milliseconds);
      count = port.read(this.#buffer);
    }
    if (!mayComeMore(count)) throw new Error(whyGone(count));
    return this.#buffer.subarray(0, Math.max(0, count));
  }
}

function whyGone(answer: number): string {
  return answer === 0 ? "the device was unplugged" : sayErrno(-answer);
}
