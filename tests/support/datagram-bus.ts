/**
 * A bus for SocketCAN's own loop on a kernel that has no CAN: the same socket, receive calls and
 * stamps, but of the kind that programs of one machine use among themselves (`unix(7)`), so that what
 * receiving costs is measured on a real processor. A sender in another process gives the frames.
 */
import { CanSocket } from "../../src/bus/adapters/socketcan/can-socket.ts";
import { SocketcanSource } from "../../src/bus/adapters/socketcan/socketcan-source.ts";
import { type Libc, libc } from "../../src/bus/adapters/linux/libc.ts";
import type { BusNames } from "../../src/bus/bus-names.ts";
import { FRAME_BYTES, type FrameBatch } from "../../src/bus/frame-batch.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import { liveParts } from "../../src/commands/sources/live-parts.ts";
import { realClock } from "../../src/commands/watching/real-clock.ts";

/** AF_UNIX, SOCK_DGRAM, SOCK_NONBLOCK and SOCK_CLOEXEC of Linux's headers. */
const FAMILY_UNIX = 1;
const DATAGRAMS = 2;
const NEITHER_WAITS_NOR_IS_INHERITED = 0x800 | 0x80000;
/** `struct sockaddr_un`: family u16 at 0, the place as text at 2. */
const ADDRESS_BYTES = 110;
/** `struct can_frame`: identifier word u32 at 0, whose top bit says 29-bit; length u8 at 4, data at 8. */
const CAN_FRAME = 16;
const EXTENDED = 0x80000000;

/** Any interface that is there: it is only looked up. */
const INTERFACE = "lo";

/** Listens at a place in the file system, by the loop of `socketcan:`. */
export function datagramSource(place: string, buses: BusNames): FrameSource {
  const library = libc(place);
  const { socket, bind } = library.call;
  const kind = DATAGRAMS | NEITHER_WAITS_NOR_IS_INHERITED;
  const address = addressOf(place);
  const call: Libc["call"] = {
    ...library.call,
    socket: () => socket(FAMILY_UNIX, kind, 0),
    bind: (descriptor) => bind(descriptor, address, address.length),
  };
  const open = () => new CanSocket({ ...library, call }, INTERFACE);
  const parts = { ...liveParts(realClock()), interface: INTERFACE, buses };
  return new SocketcanSource({ ...parts, first: open(), open });
}

/** Sends frames to such a place. */
export class DatagramSender {
  readonly #library = Deno.dlopen("libc.so.6", {
    socket: { parameters: ["i32", "i32", "i32"], result: "i32" },
    connect: { parameters: ["i32", "buffer", "u32"], result: "i32" },
    send: { parameters: ["i32", "buffer", "usize", "i32"], result: "isize" },
    close: { parameters: ["i32"], result: "i32" },
  });
  readonly #descriptor = this.#library.symbols.socket(FAMILY_UNIX, DATAGRAMS, 0);

  /** False while nobody listens there. */
  connect(place: string): boolean {
    const address = addressOf(place);
    return this.#library.symbols.connect(this.#descriptor, address, address.length) === 0;
  }

  /** Waits while the listener's queue is full. */
  send(batch: FrameBatch, index: number): void {
    const frame = new Uint8Array(CAN_FRAME);
    const view = new DataView(frame.buffer);
    view.setUint32(0, (batch.identifiers[index] | EXTENDED) >>> 0, true);
    frame[4] = batch.lengths[index];
    const from = index * FRAME_BYTES;
    frame.set(batch.data.subarray(from, from + batch.lengths[index]), 8);
    this.#library.symbols.send(this.#descriptor, frame, BigInt(CAN_FRAME), 0);
  }

  close(): void {
    this.#library.symbols.close(this.#descriptor);
    this.#library.close();
  }
}

function addressOf(place: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(ADDRESS_BYTES);
  new DataView(bytes.buffer).setUint16(0, FAMILY_UNIX, true);
  new TextEncoder().encodeInto(place, bytes.subarray(2, ADDRESS_BYTES - 1));
  return bytes;
}
