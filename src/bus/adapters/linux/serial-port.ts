import { Errno } from "./errno.ts";
import type { Libc } from "./libc.ts";
import { WakeableWait } from "./wakeable-wait.ts";

/** O_RDWR, O_NOCTTY, O_NONBLOCK, O_CLOEXEC of Linux's `fcntl.h`. */
const OPEN_FLAGS = 0x2 | 0x100 | 0x800 | 0x80000;
/** TCSANOW and TCIOFLUSH of `termios.h`. */
const AT_ONCE = 0;
const BOTH_WAYS = 2;
/** Room for a `struct termios` (60 bytes); only its third word is looked at, the control modes. */
const SETTINGS_ROOM = 64;
const CONTROL_MODES = 8;
/** CREAD and CLOCAL: receive, and take no notice of a modem's lines. */
const RECEIVING = 0o200 | 0o4000;
/** B115200 of `termios.h`; an adapter on USB takes no notice of it. */
const SPEED = 0o10002;

/** A serial device could not be opened or set; `errno` says why. */
export class SerialPortRefused extends Error {
  override readonly name = "SerialPortRefused";
  constructor(readonly errno: number) {
    super(`error ${errno}`);
  }
}

/** A serial device in raw mode: every byte as it is. An edge: it calls the kernel. */
export class SerialPort {
  readonly #libc: Libc;
  readonly #descriptor: number;
  readonly #wait: WakeableWait;

  /** @throws {SerialPortRefused} */
  constructor(libc: Libc, device: string) {
    this.#libc = libc;
    this.#descriptor = libc.call.open(new TextEncoder().encode(`${device}\0`), OPEN_FLAGS);
    if (this.#descriptor < 0) throw new SerialPortRefused(libc.errno());
    if (!this.#setRaw()) {
      const refused = new SerialPortRefused(libc.errno());
      libc.call.close(this.#descriptor);
      throw refused;
    }
    this.#wait = new WakeableWait(libc, this.#descriptor);
  }

  /** Bytes read into a buffer; 0 when the device is gone; below zero an error number. */
  read(into: Uint8Array<ArrayBuffer>): number {
    const { call, errno } = this.#libc;
    const count = Number(call.read(this.#descriptor, into, BigInt(into.length)));
    return count < 0 ? -errno() : count;
  }

  /** False where the device takes nothing. */
  write(text: string): boolean {
    const bytes = new TextEncoder().encode(text);
    const { call } = this.#libc;
    return Number(call.write(this.#descriptor, bytes, BigInt(bytes.length))) === bytes.length;
  }

  /** Resolves when something may have come, after `milliseconds`, or once woken. */
  wait(milliseconds: number): Promise<void> {
    return this.#wait.wait(milliseconds);
  }

  wake(): void {
    this.#wait.wake();
  }

  async close(): Promise<void> {
    await this.#wait.close();
    this.#libc.call.close(this.#descriptor);
  }

  #setRaw(): boolean {
    const { call } = this.#libc;
    const settings = new Uint8Array(SETTINGS_ROOM);
    if (call.tcgetattr(this.#descriptor, settings) !== 0) return false;
    call.cfmakeraw(settings);
    const view = new DataView(settings.buffer);
    view.setUint32(CONTROL_MODES, view.getUint32(CONTROL_MODES, true) | RECEIVING, true);
    call.cfsetspeed(settings, SPEED);
    return call.tcsetattr(this.#descriptor, AT_ONCE, settings) === 0 &&
      call.tcflush(this.#descriptor, BOTH_WAYS) === 0;
  }
}

/** True for an answer of `read` after which there may be more. */
export function mayComeMore(answer: number): boolean {
  return answer > 0 || -answer === Errno.again || -answer === Errno.interrupted;
}
