import { Errno } from "../linux/errno.ts";
import type { Libc } from "../linux/libc.ts";
import { WakeableWait } from "../linux/wakeable-wait.ts";
import {
  canAddress,
  CanOption,
  EVERY_ERROR,
  FAMILY_CAN,
  MEMORY_DROPPED,
  MEMORY_WAITING,
  MEMORY_WORDS,
  NOT_WAITING,
  PROTOCOL_RAW,
  RAW_SOCKET,
  SocketOption,
} from "./linux-can.ts";
import { MessageSlots } from "./message-slots.ts";

/** Frames taken at a time: more than come in 10 ms on any classic bus. */
const SLOTS = 128;
/** Holds about 43,000 frames, 24 s of a full bus; the usual buffer holds 0.15 s. */
const RECEIVE_BUFFER = 16 * 1024 * 1024;
/** What the kernel takes of its buffer for one frame, as seen. */
const FRAME_IN_BUFFER = 768;
/** A buffer of fewer frames is worth a word: half a second of a full bus. */
export const FEW_FRAMES = 900;

/** Why a socket could not be had: the error number, and the step that gave it. */
export class SocketRefused extends Error {
  override readonly name = "SocketRefused";
  constructor(readonly errno: number, readonly step: "socket" | "name" | "bind") {
    super(`${step}: error ${errno}`);
  }
}

/** A socket that receives what passes on one CAN interface. An edge: it calls the kernel. */
export class CanSocket {
  readonly slots: MessageSlots;
  readonly #libc: Libc;
  /** The kernel's number of the interface: one that was unplugged comes back with another. */
  readonly #index: number;
  readonly #descriptor: number;
  readonly #wait: WakeableWait;
  readonly #memory = new Uint32Array(MEMORY_WORDS);
  readonly #memoryLength = new Uint32Array(1);
  #used = 0;

  /** @throws {SocketRefused} */
  constructor(libc: Libc, readonly interfaceName: string) {
    this.#libc = libc;
    this.slots = new MessageSlots(SLOTS, libc.addressOf);
    this.#descriptor = libc.call.socket(FAMILY_CAN, RAW_SOCKET, PROTOCOL_RAW);
    if (this.#descriptor < 0) throw new SocketRefused(libc.errno(), "socket");
    this.#option(CanOption.level, CanOption.errorFilter, EVERY_ERROR);
    this.#option(SocketOption.level, SocketOption.timestamps, 1);
    this.#option(SocketOption.level, SocketOption.dropCount, 1);
    if (!this.#option(SocketOption.level, SocketOption.receiveBufferForced, RECEIVE_BUFFER)) {
      this.#option(SocketOption.level, SocketOption.receiveBuffer, RECEIVE_BUFFER);
    }
    this.#index = interfaceIndex(libc, interfaceName);
    if (this.#index === 0) throw this.#refused(Errno.noDevice, "name");
    const address = canAddress(this.#index);
    if (libc.call.bind(this.#descriptor, address, address.length) < 0) {
      throw this.#refused(libc.errno(), "bind");
    }
    this.#wait = new WakeableWait(libc, this.#descriptor);
  }

  /** False once the interface is no more, even if another one has its name. */
  get isThere(): boolean {
    return interfaceIndex(this.#libc, this.interfaceName) === this.#index;
  }

  /** Takes what has come, into `slots`: the count, or the error number below zero. */
  receive(): number {
    const { call, errno } = this.#libc;
    const { slots } = this;
    slots.reset(this.#used);
    this.#used = 0;
    const count = call.recvmmsg(this.#descriptor, slots.bytes, SLOTS, NOT_WAITING, null);
    if (count < 0) return -errno();
    this.#used = count;
    return count;
  }

  /** Resolves when something may have come, after `milliseconds`, or once woken. */
  wait(milliseconds: number): Promise<void> {
    return this.#wait.wait(milliseconds);
  }

  wake(): void {
    this.#wait.wake();
  }

  /** Frames that the kernel keeps while nobody takes them. */
  get room(): number {
    const { level, receiveBuffer } = SocketOption;
    const size = new Uint32Array(1);
    const length = new Uint32Array([size.byteLength]);
    this.#libc.call.getsockopt(this.#descriptor, level, receiveBuffer, size, length);
    return Math.floor(size[0] / FRAME_IN_BUFFER);
  }

  /** Frames that were lost so far because the buffer was full, modulo 2³². */
  dropped(): number {
    return this.#memoryInfo()[MEMORY_DROPPED];
  }

  /** Whether frames have come that were not taken yet. */
  get hasWaiting(): boolean {
    return this.#memoryInfo()[MEMORY_WAITING] > 0;
  }

  #memoryInfo(): Uint32Array {
    this.#memoryLength[0] = this.#memory.byteLength;
    const { level, memory } = SocketOption;
    const { call } = this.#libc;
    call.getsockopt(this.#descriptor, level, memory, this.#memory, this.#memoryLength);
    return this.#memory;
  }

  async close(): Promise<void> {
    await this.#wait.close();
    this.#libc.call.close(this.#descriptor);
  }

  #refused(errno: number, step: "name" | "bind"): SocketRefused {
    this.#libc.call.close(this.#descriptor);
    return new SocketRefused(errno, step);
  }

  #option(level: number, option: number, value: number): boolean {
    const bytes = new Uint32Array([value]);
    return this.#libc.call.setsockopt(this.#descriptor, level, option, bytes, 4) === 0;
  }
}

/** The kernel's number of an interface; 0 if there is none of that name. */
function interfaceIndex(libc: Libc, name: string): number {
  return libc.call.if_nametoindex(new TextEncoder().encode(`${name}\0`));
}
