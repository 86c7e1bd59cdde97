/**
 * `socketcan:can0`: frames from the kernel by foreign functions, received only.
 *
 * Parts: `linux-can` (numbers and the address), `message-slots` and `control-messages` (memory as
 * `recvmmsg` fills it), `can-socket` (the calls), `frame-intake` (slots into batches),
 * `socketcan-source` (when to wait, to take, to open anew).
 */
import type { BusNames } from "../../bus-names.ts";
import { CannotOpenInput } from "../../cannot-open-input.ts";
import type { FrameSource } from "../../frame-source.ts";
import type { LiveParts } from "../../live-parts.ts";
import { Errno, sayErrno } from "../linux/errno.ts";
import { libc } from "../linux/libc.ts";
import { CanSocket, SocketRefused } from "./can-socket.ts";
import { type Refusal, SocketcanSource } from "./socketcan-source.ts";

export interface SocketcanOptions extends LiveParts {
  readonly interface: string;
  readonly buses: BusNames;
  readonly bus?: string;
  readonly batchSize?: number;
}

/**
 * Listens to a CAN interface. One that is not there yet is waited for: an adapter may be plugged in
 * later than the computer starts.
 * @throws {CannotOpenInput} where waiting cannot help
 */
export function openSocketcan(options: SocketcanOptions): FrameSource {
  const name = options.interface;
  const library = libc(`socketcan:${name}`);
  const open = (): CanSocket | Refusal => {
    try {
      return new CanSocket(library, name);
    } catch (error) {
      if (!(error instanceof SocketRefused)) throw error;
      return whyRefused(error, name);
    }
  };
  const first = open();
  if (!(first instanceof CanSocket) && first.hopeless) {
    throw new CannotOpenInput(`socketcan:${name}: ${first.reason}.`);
  }
  return new SocketcanSource({ ...options, first, open });
}

function whyRefused({ errno, step }: SocketRefused, name: string): Refusal {
  if (step === "name") return { reason: `there is no network interface ${name}`, hopeless: false };
  if (step === "bind" && errno === Errno.noDevice) {
    return { reason: `${name} is no CAN interface`, hopeless: true };
  }
  return { reason: WHY_NO_SOCKET[errno] ?? sayErrno(errno), hopeless: step === "socket" };
}

const NO_CAN =
  "this kernel has no CAN, or keeps it from this program (modprobe can-raw loads it; under systemd RestrictAddressFamilies= must list AF_CAN)";
const NOT_ALLOWED =
  "this user may not open a CAN socket (in a container it takes the host's network and the capability CAP_NET_RAW)";

const WHY_NO_SOCKET: Readonly<Record<number, string>> = {
  [Errno.familyNotSupported]: NO_CAN,
  [Errno.protocolNotSupported]: NO_CAN,
  [Errno.notPermitted]: NOT_ALLOWED,
  [Errno.accessDenied]: NOT_ALLOWED,
};
