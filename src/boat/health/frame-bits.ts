/**
 * How long a frame is on the wire (ISO 11898-1). From start bit to checksum, five equal bits are
 * followed by a stuff bit of the other sort: the length depends on the data.
 */

/** Start bit, identifier, control bits. */
const EXTENDED_HEADER = 39;
const STANDARD_HEADER = 19;
const CHECKSUM = 15;
/** Checksum delimiter, acknowledgement, end of frame and the space after it: never stuffed. */
const END = 13;

/** Bits without any stuff bits. */
export function plainBits(extended: boolean, bytes: number): number {
  return (extended ? EXTENDED_HEADER : STANDARD_HEADER) + 8 * bytes + CHECKSUM + END;
}

/** Stuff bits of a frame with an extended identifier and its `length` bytes at `start`. */
export function stuffBits(
  identifier: number,
  data: Uint8Array,
  start: number,
  length: number,
): number {
  const stuffing = new Stuffing();
  stuffing.put(0, 1);
  stuffing.put(identifier >>> 18, 11);
  // Substitute remote request and identifier extension, both recessive.
  stuffing.put(0b11, 2);
  stuffing.put(identifier & 0x3ffff, 18);
  // Remote request and two reserved bits, all dominant.
  stuffing.put(0, 3);
  stuffing.put(length, 4);
  for (let at = start; at < start + length; at++) stuffing.put(data[at], 8);
  stuffing.put(stuffing.checksum, CHECKSUM);
  return stuffing.count;
}

/** x^15 + x^14 + x^10 + x^8 + x^7 + x^4 + x^3 + 1 without its highest bit. */
const POLYNOMIAL = 0x4599;
const EQUAL_BITS = 5;

class Stuffing {
  count = 0;
  checksum = 0;
  #last = -1;
  #equal = 0;

  put(bits: number, width: number): void {
    for (let place = width - 1; place >= 0; place--) this.#putBit((bits >>> place) & 1);
  }

  #putBit(bit: number): void {
    const carry = bit ^ (this.checksum >>> 14);
    this.checksum = (this.checksum << 1) & 0x7fff;
    if (carry === 1) this.checksum ^= POLYNOMIAL;
    this.#equal = bit === this.#last ? this.#equal + 1 : 1;
    this.#last = bit;
    if (this.#equal < EQUAL_BITS) return;
    this.count++;
    this.#last = 1 - bit;
    this.#equal = 1;
  }
}
