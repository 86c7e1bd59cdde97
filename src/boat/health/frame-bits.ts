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

/** x^15 + x^14 + x^10 + x^8 + x^7 + x^4 + x^3 + 1 without its highest bit. */
const POLYNOMIAL = 0x4599;
const EQUAL_BITS = 5;
const MOST_BYTES = 8;

/** A frame's bits, one in each byte, from start bit to checksum. */
const bits = new Uint8Array(EXTENDED_HEADER + 8 * MOST_BYTES + CHECKSUM);

/** Stuff bits of a frame with an extended identifier and its `length` bytes (0 to 8) at `start`. */
export function stuffBits(
  identifier: number,
  data: Uint8Array,
  start: number,
  length: number,
): number {
  bits[0] = 0;
  put(1, identifier >>> 18, 11);
  // Substitute remote request and identifier extension, both recessive.
  put(12, 0b11, 2);
  put(14, identifier & 0x3ffff, 18);
  // Remote request and two reserved bits, all dominant.
  put(32, 0, 3);
  put(35, length, 4);
  for (let byte = 0; byte < length; byte++) put(39 + 8 * byte, data[start + byte], 8);
  const end = EXTENDED_HEADER + 8 * length;
  put(end, checksumOf(end), CHECKSUM);
  return stuffBitsIn(end + CHECKSUM);
}

function put(from: number, value: number, width: number): void {
  for (let place = 0; place < width; place++) {
    bits[from + place] = (value >>> (width - 1 - place)) & 1;
  }
}

function checksumOf(end: number): number {
  let checksum = 0;
  for (let at = 0; at < end; at++) {
    const carry = bits[at] ^ (checksum >>> (CHECKSUM - 1));
    checksum = ((checksum << 1) & 0x7fff) ^ (-carry & POLYNOMIAL);
  }
  return checksum;
}

function stuffBitsIn(end: number): number {
  let count = 0;
  let last = -1;
  let equal = 0;
  for (let at = 0; at < end; at++) {
    const bit = bits[at];
    equal = bit === last ? equal + 1 : 1;
    last = bit;
    if (equal < EQUAL_BITS) continue;
    count++;
    last = 1 - bit;
    equal = 1;
  }
  return count;
}
