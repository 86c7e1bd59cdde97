import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../frame-batch.ts";
import { EXPECTED_NAME, type InterfaceNames } from "../interface-names.ts";
import { HEX_VALUE } from "./hex-digits.ts";

/** Seconds of at most this keep microseconds exact in a double. */
const MOST_SECONDS = 9_007_199_253;
/** Microseconds of the last decimal, by their count. */
const LAST_DECIMAL = [1_000_000, 100_000, 10_000, 1_000, 100, 10, 1, 1, 1, 1];

const NEWLINE = 0x0a;
const RETURN = 0x0d;
const SPACE = 0x20;
const HASH = 0x23;
const OPENING = 0x28;
const CLOSING = 0x29;
const POINT = 0x2e;
const ZERO = 0x30;
const LETTER_R = 0x52;
const LETTER_T = 0x54;
const UNDERLINE = 0x5f;

const EXPECTED_TIME = "a time such as (1538388000.035000)";
const EXPECTED_IDENTIFIER = "an identifier of 3 digits up to 7FF or of 8 digits, then #";
const EXPECTED_DATA = "up to 8 data bytes of two hexadecimal digits each";
const EXPECTED_END = "the end of the line after at most 8 data bytes, or 64 in CAN FD";
const EXPECTED_FLEXIBLE = "a digit of flags, then up to 64 data bytes, as CAN FD has";

/**
 * One line as `candump -L` writes it: `(1538388000.035000) can0 0CF00400#F0FF000000FFFFFF`,
 * perhaps followed by the letter of the direction; also remote, error and FD frames.
 *
 * It is parsed in one pass over its bytes. The caller knows that its newline is there, and a newline
 * matches nothing else, so that no bound needs to be checked on the way.
 */
export class CandumpLine {
  readonly #names: InterfaceNames;
  /** After a failure: how far the pass came, at most to the newline, and what should stand there. */
  failedAt = 0;
  expected = "";

  constructor(names: InterfaceNames) {
    this.#names = names;
  }

  /**
   * Adds the frame of the line at `at`, if it is not blank, and returns where the next line begins;
   * -1 where the line is malformed. Each part of the line stores what it read in the place of the
   * next frame, which counts only once the whole line was read.
   */
  read(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    if (bytes[at] !== OPENING) return this.#blank(bytes, at);
    let place = this.#time(bytes, at + 1, batch);
    if (place >= 0) place = this.#bus(bytes, place, batch);
    if (place >= 0) place = this.#identifier(bytes, place, batch);
    if (place >= 0) place = this.#content(bytes, place, batch);
    if (place >= 0) place = this.#lineEnd(bytes, place);
    if (place >= 0) batch.count++;
    return place;
  }

  #fail(at: number, expected: string): -1 {
    this.failedAt = at;
    this.expected = expected;
    return -1;
  }

  #blank(bytes: Uint8Array, at: number): number {
    if (bytes[at] === NEWLINE) return at + 1;
    if (bytes[at] === RETURN && bytes[at + 1] === NEWLINE) return at + 2;
    return this.#fail(at, EXPECTED_TIME);
  }

  /** Microseconds, from seconds with one to nine decimals; those beyond six are cut. */
  #time(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    let place = at;
    let digit = 0;
    let seconds = 0;
    while ((digit = bytes[place] - ZERO) >= 0 && digit <= 9) {
      seconds = seconds * 10 + digit;
      place++;
    }
    if (place === at || place > at + 10 || seconds > MOST_SECONDS || bytes[place] !== POINT) {
      return this.#fail(place, EXPECTED_TIME);
    }
    const decimalsAt = ++place;
    let fraction = 0;
    while ((digit = bytes[place] - ZERO) >= 0 && digit <= 9) {
      if (place < decimalsAt + 6) fraction = fraction * 10 + digit;
      place++;
    }
    const decimals = place - decimalsAt;
    if (decimals === 0 || decimals > 9 || bytes[place] !== CLOSING) {
      return this.#fail(place, EXPECTED_TIME);
    }
    if (bytes[++place] !== SPACE) return this.#fail(place, EXPECTED_TIME);
    batch.times[batch.count] = seconds * 1_000_000 + fraction * LAST_DECIMAL[decimals];
    return place + 1;
  }

  /** `candump` pads a shorter interface name with spaces to the width of the longest, 15. */
  #bus(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    let nameAt = at;
    while (bytes[nameAt] === SPACE && nameAt < at + 15) nameAt++;
    let place = nameAt;
    while (bytes[place] > SPACE) place++;
    if (bytes[place] !== SPACE) return this.#fail(place, EXPECTED_NAME["no-name"]);
    const bus = this.#names.numberOf(bytes, nameAt, place);
    if (bus < 0) return this.#fail(nameAt, EXPECTED_NAME[this.#names.whyNot]);
    batch.buses[batch.count] = bus;
    return place + 1;
  }

  #identifier(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    let place = at;
    let digit = 0;
    let identifier = 0;
    while ((digit = HEX_VALUE[bytes[place]]) >= 0 && place < at + 8) {
      identifier = (identifier << 4) | digit;
      place++;
    }
    if (bytes[place] !== HASH) return this.#fail(place, EXPECTED_IDENTIFIER);
    let flags = 0;
    if (place === at + 8 && identifier >>> 29 <= 1) {
      flags = identifier >>> 29 === 0 ? FrameFlag.extended : FrameFlag.error;
    } else if (place !== at + 3 || identifier > 0x7ff) {
      return this.#fail(at, EXPECTED_IDENTIFIER);
    }
    batch.flags[batch.count] = flags;
    batch.identifiers[batch.count] = identifier & 0x1fffffff;
    return place + 1;
  }

  /** What follows the first "#": data, or another kind of frame. */
  #content(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    if (bytes[at] === LETTER_R) return this.#remoteLength(bytes, at + 1, batch);
    if (bytes[at] === HASH) return this.#flexibleData(bytes, at + 1, batch);
    const data = batch.data;
    const to = batch.count * FRAME_BYTES;
    let place = at;
    let high = 0;
    let low = 0;
    let length = 0;
    while (length < FRAME_BYTES && (high = HEX_VALUE[bytes[place]]) >= 0) {
      if ((low = HEX_VALUE[bytes[++place]]) < 0) return this.#fail(place, EXPECTED_DATA);
      data[to + length++] = (high << 4) | low;
      place++;
    }
    batch.lengths[batch.count] = length;
    // A raw length code of 9 to 15 stands for 8 bytes as well.
    if (bytes[place] !== UNDERLINE || length < FRAME_BYTES) return place;
    return HEX_VALUE[bytes[place + 1]] > 8 ? place + 2 : this.#fail(place + 1, EXPECTED_END);
  }

  #remoteLength(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    const digit = bytes[at] - ZERO;
    const given = digit >= 0 && digit <= 8;
    batch.flags[batch.count] |= FrameFlag.remote;
    batch.lengths[batch.count] = given ? digit : 0;
    return given ? at + 1 : at;
  }

  /** The data of an FD frame is passed over: neither NMEA 2000 nor J1939 uses it. */
  #flexibleData(bytes: Uint8Array, at: number, batch: FrameBatch): number {
    let place = at;
    while (place <= at + 128 && HEX_VALUE[bytes[place]] >= 0) place++;
    if ((place - at) % 2 === 0) return this.#fail(place, EXPECTED_FLEXIBLE);
    batch.flags[batch.count] |= FrameFlag.fd;
    batch.lengths[batch.count] = 0;
    return place;
  }

  /** Passes over the letter of the direction and the newline. */
  #lineEnd(bytes: Uint8Array, at: number): number {
    let place = at;
    if (bytes[place] === SPACE) {
      place++;
      if (bytes[place] === LETTER_R || bytes[place] === LETTER_T) place++;
    }
    if (bytes[place] === RETURN) place++;
    return bytes[place] === NEWLINE ? place + 1 : this.#fail(place, EXPECTED_END);
  }
}
