import { MILLISECOND } from "../../ground/time.ts";
import type { BusNames } from "../bus-names.ts";
import type { FrameSource } from "../frame-source.ts";
import { InterfaceNames } from "../interface-names.ts";
import type { LiveParts } from "../live-parts.ts";
import { type ByteStream, ParsedSource } from "../parsed-source.ts";
import { CandumpLines } from "../recordings/candump-lines.ts";
import { SourceTally } from "../source-tally.ts";
import { ReconnectingBytes } from "./reconnecting-bytes.ts";

export interface TcpOptions extends Pick<LiveParts, "delay" | "sleep" | "told"> {
  readonly host: string;
  readonly port: number;
  readonly buses: BusNames;
  /** The name that the person gave the bus at the other end. */
  readonly bus?: string;
  readonly batchSize?: number;
}

const NEWLINE = 0x0a;
/** Spoils a line that was cut off: shortened data must not pass for a shorter frame. */
const CUT_LINE = new TextEncoder().encode(" (connection lost)\n");
const WHOLE_LINE = new Uint8Array(0);

/**
 * Candump lines from a TCP server, as `canlogserver` of can-utils sends them. A live source that
 * never ends by itself: a lost connection is made again. An edge: it opens sockets.
 */
export function openTcp(options: TcpOptions): FrameSource {
  const { host, port, delay, sleep, told } = options;
  const tally = new SourceTally();
  return new ParsedSource({
    title: `${host}:${port}`,
    live: true,
    lateness: LATENESS,
    bytes: new ReconnectingBytes({
      connect: (signal) => connect(options, signal),
      delay,
      sleep,
      told,
      joint: (last) => last === NEWLINE ? WHOLE_LINE : CUT_LINE,
    }),
    parser: new CandumpLines(new InterfaceNames(options.buses, options.bus), tally),
    tally,
    batchSize: options.batchSize,
  });
}

/** Lines are taken this often while they flow: to wake for each piece costs twice as much. */
const DRAIN_EVERY = 10 * MILLISECOND;
/** A network may hold lines up for so long. */
const LATENESS = 500 * MILLISECOND;
const PIECE = 64 * 1024;

async function connect(
  { host, port, sleep }: TcpOptions,
  signal: AbortSignal,
): Promise<ByteStream> {
  const connection = await Deno.connect({ hostname: host, port, signal });
  // A gateway that loses its power says no goodbye; the system then asks after it.
  connection.setKeepAlive(true);
  const buffer = new Uint8Array(PIECE);
  let closed = false;
  async function* pieces(): AsyncGenerator<Uint8Array> {
    while (!closed) {
      const length = await connection.read(buffer);
      if (length === null) return;
      yield buffer.subarray(0, length);
      await sleep(DRAIN_EVERY, signal);
    }
  }
  const close = (): void => {
    if (!closed) connection.close();
    closed = true;
  };
  return { pieces, close };
}
