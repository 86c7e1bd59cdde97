/**
 * `slcan:/dev/ttyACM0`: a serial CAN adapter that speaks slcan, listened to only.
 *
 * Parts: `slcan-stream` (opens the adapter's channel and gives its bytes), `slcan-lines` (lines into
 * batches), `frame-line`, `status-reports` and `adapter-time` (what stands in a line).
 */
import { MILLISECOND } from "../../../ground/time.ts";
import type { BusNames } from "../../bus-names.ts";
import { CannotOpenInput } from "../../cannot-open-input.ts";
import type { FrameSource } from "../../frame-source.ts";
import type { LiveParts } from "../../live-parts.ts";
import { type ByteStream, ParsedSource } from "../../parsed-source.ts";
import { SourceTally } from "../../source-tally.ts";
import { Errno, sayErrno } from "../linux/errno.ts";
import { libc } from "../linux/libc.ts";
import { SerialPort, SerialPortRefused } from "../linux/serial-port.ts";
import { ReconnectingBytes } from "../reconnecting-bytes.ts";
import { SessionClock } from "../session-clock.ts";
import { busOfDevice } from "./bus-of-device.ts";
import { SlcanLines } from "./slcan-lines.ts";
import { SlcanStream } from "./slcan-stream.ts";

export interface SlcanOptions extends LiveParts {
  readonly device: string;
  readonly buses: BusNames;
  /** The name that the person gave the bus; else the device's. */
  readonly bus?: string;
  /** Bits a second; NMEA 2000 has 250,000. */
  readonly bitRate?: number;
  readonly batchSize?: number;
}

/** Commands by bit rate, as the protocol's first adapters defined them. */
const BIT_RATES: ReadonlyMap<number, string> = new Map([
  [10_000, "S0"],
  [20_000, "S1"],
  [50_000, "S2"],
  [100_000, "S3"],
  [125_000, "S4"],
  [250_000, "S5"],
  [500_000, "S6"],
  [800_000, "S7"],
  [1_000_000, "S8"],
]);
const USUAL_BIT_RATE = 250_000;
/** A serial line on USB, a piece at a time. */
const LATENESS = 150 * MILLISECOND;
/** Ends the line that was cut when the adapter went away; alone it is an empty line. */
const CUT = new TextEncoder().encode("?\r");
const WHOLE = new Uint8Array(0);
const RETURN = 0x0d;

/**
 * Listens to a serial adapter; one that is not plugged in is waited for.
 * @throws {CannotOpenInput} where waiting cannot help
 */
export function openSlcan(options: SlcanOptions): FrameSource {
  const { device, buses, clock, delay, sleep, told } = options;
  const need = `slcan:${device}`;
  const library = libc(need);
  const bitRate = BIT_RATES.get(options.bitRate ?? USUAL_BIT_RATE);
  if (bitRate === undefined) {
    throw new CannotOpenInput(`${need}: slcan has no command for ${options.bitRate} bit/s.`);
  }
  refuseFile(device);
  const title = options.bus ?? busOfDevice(device);
  const tally = new SourceTally(told);
  const session = new SessionClock(clock);
  const parser = new SlcanLines({
    tally,
    bus: buses.give(title),
    arrival: () => session.now(),
    told,
  });
  const looked = (): void => {
    if (!session.look()) return;
    told?.({ kind: "clock-step", by: session.takeStep() });
    parser.clockWasSet();
  };

  async function connect(signal: AbortSignal): Promise<ByteStream> {
    const port = openPort(() => new SerialPort(library, device), device);
    const stream = new SlcanStream({ port, clock, sleep, closing: signal, looked });
    const abort = (): void => stream.close();
    signal.addEventListener("abort", abort);
    try {
      await stream.open(bitRate ?? "");
    } catch (error) {
      await port.close();
      throw error;
    } finally {
      signal.removeEventListener("abort", abort);
    }
    parser.adapterWasOpened();
    return stream;
  }

  return new ParsedSource({
    title,
    live: true,
    lateness: LATENESS,
    stampedHere: true,
    bytes: new ReconnectingBytes({
      connect,
      delay,
      sleep,
      told,
      joint: (last) => last === RETURN ? WHOLE : CUT,
    }),
    parser,
    tally,
    batchSize: options.batchSize,
  });
}

/**
 * What is not there yet is waited for; a file or a folder never becomes an adapter.
 * @throws {CannotOpenInput}
 */
function refuseFile(device: string): void {
  try {
    const { isDirectory, isFile } = Deno.statSync(device);
    if (!isDirectory && !isFile) return;
    const found = isFile ? "a file" : "a folder";
    throw new CannotOpenInput(
      `slcan:${device} is ${found}, expected a serial device such as /dev/ttyACM0.`,
    );
  } catch (error) {
    if (error instanceof CannotOpenInput) throw error;
  }
}

/** @throws {Error} with a clause that says what to do */
function openPort(open: () => SerialPort, device: string): SerialPort {
  try {
    return open();
  } catch (error) {
    if (!(error instanceof SerialPortRefused)) throw error;
    throw new Error(WHY_NO_PORT[error.errno]?.(device) ?? `${device}: ${sayErrno(error.errno)}`);
  }
}

const WHY_NO_PORT: Readonly<Record<number, (device: string) => string>> = {
  [Errno.noEntry]: (device) => `there is no device ${device}`,
  [Errno.accessDenied]: (device) =>
    `this user may not read ${device}; join the group that owns it, ` +
    `as in "sudo usermod -aG dialout USER", and log in anew`,
  [Errno.notTerminal]: (device) => `${device} is no serial device`,
};
