import { type Micros, MILLISECOND } from "../../ground/time.ts";
import type { BusNames } from "../bus-names.ts";
import type { FrameSource } from "../frame-source.ts";
import { InterfaceNames } from "../interface-names.ts";
import type { LiveParts } from "../live-parts.ts";
import { ParsedSource } from "../parsed-source.ts";
import { CandumpLines } from "../recordings/candump-lines.ts";
import { SourceTally } from "../source-tally.ts";
import { ReconnectingBytes } from "./reconnecting-bytes.ts";
import { connectTcp } from "./tcp-connection.ts";

export interface TcpOptions extends LiveParts {
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
/** A network may hold lines up for so long. */
const LATENESS: Micros = 500 * MILLISECOND;

/**
 * Candump lines from a TCP server, as `canlogserver` of can-utils sends them. A live source that
 * never ends by itself: a lost connection is made again.
 */
export function openTcp(options: TcpOptions): FrameSource {
  const { host, port, delay, sleep, told } = options;
  const tally = new SourceTally(told);
  if (options.bus === undefined) options.buses.nameless++;
  return new ParsedSource({
    title: `${host}:${port}`,
    live: true,
    lateness: LATENESS,
    bytes: new ReconnectingBytes({
      connect: (signal) => connectTcp(options, signal),
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
