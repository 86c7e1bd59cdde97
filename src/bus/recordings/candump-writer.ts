import type { BusNames } from "../bus-names.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../frame-batch.ts";
import { HEX_DIGIT } from "./hex-digits.ts";

/** `(9007199253.999999) `, a name, ` 1FFFFFFF#` and sixteen digits fit well. */
const LONGEST_LINE = 96;
const ZERO = 0x30;
const LETTER_R = 0x52;
/** CAN_ERR_FLAG of Linux's `can.h`: an error frame is written with it in its identifier. */
const ERROR_BIT = 0x20000000;

/**
 * Frames as the lines that `candump -L` writes, byte for byte. FD frames are left out, since their
 * data is not kept.
 */
export class CandumpWriter {
  readonly #buses: BusNames;
  /** By bus number: the name with a space on either side, as bytes. */
  readonly #names: Uint8Array[] = [];
  #bytes = new Uint8Array(0);
  #length = 0;

  constructor(buses: BusNames) {
    this.#buses = buses;
  }

  /** The lines of the frames from `from` up to `to`; good until the next call. */
  lines(batch: FrameBatch, from = 0, to = batch.count): Uint8Array {
    const most = (to - from) * LONGEST_LINE;
    if (this.#bytes.length < most) this.#bytes = new Uint8Array(most);
    this.#length = 0;
    for (let index = from; index < to; index++) {
      if ((batch.flags[index] & FrameFlag.fd) === 0) this.#line(batch, index);
    }
    return this.#bytes.subarray(0, this.#length);
  }

  #line(batch: FrameBatch, index: number): void {
    const time = batch.times[index];
    const seconds = Math.floor(time / 1_000_000);
    this.#byte(0x28);
    this.#decimal(seconds, 10);
    this.#byte(0x2e);
    this.#decimal(time - seconds * 1_000_000, 6);
    this.#byte(0x29);
    const name = this.#name(batch.buses[index]);
    this.#bytes.set(name, this.#length);
    this.#length += name.length;
    const flags = batch.flags[index];
    const identifier = batch.identifiers[index];
    if ((flags & FrameFlag.error) !== 0) this.#hexadecimal(identifier | ERROR_BIT, 8);
    else this.#hexadecimal(identifier, (flags & FrameFlag.extended) !== 0 ? 8 : 3);
    this.#byte(0x23);
    const length = batch.lengths[index];
    if ((flags & FrameFlag.remote) !== 0) {
      this.#byte(LETTER_R);
      if (length > 0) this.#byte(ZERO + length);
    } else {
      for (let i = 0; i < length; i++) {
        this.#hexadecimal(batch.data[index * FRAME_BYTES + i], 2);
      }
    }
    this.#byte(0x0a);
  }

  #name(bus: number): Uint8Array {
    let name = this.#names[bus];
    if (name === undefined) {
      name = new TextEncoder().encode(` ${this.#buses.nameOf(bus)} `);
      this.#names[bus] = name;
    }
    return name;
  }

  #byte(byte: number): void {
    this.#bytes[this.#length++] = byte;
  }

  /** With zeros in front up to `digits`. */
  #decimal(value: number, digits: number): void {
    for (let place = digits - 1, rest = value; place >= 0; place--) {
      const tens = Math.floor(rest / 10);
      this.#bytes[this.#length + place] = ZERO + rest - tens * 10;
      rest = tens;
    }
    this.#length += digits;
  }

  #hexadecimal(value: number, digits: number): void {
    for (let place = digits - 1; place >= 0; place--) {
      this.#byte(HEX_DIGIT[(value >>> (4 * place)) & 0xf]);
    }
  }
}
