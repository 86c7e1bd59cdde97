/**
 * Writes a whole number, little endian, two's complement where negative, into any place of any
 * width. Numbers beyond 2^53 have no lowest bits to write.
 */
export function writeBits(bytes: Uint8Array, bit: number, width: number, raw: number): void {
  let rest = raw;
  for (let place = bit; place < bit + width;) {
    const shift = place & 7;
    const taken = Math.min(8 - shift, bit + width - place);
    const range = 2 ** taken;
    const carried = Math.floor(rest / range);
    const ones = (range - 1) << shift;
    bytes[place >> 3] = (bytes[place >> 3] & ~ones) | ((rest - carried * range) << shift);
    rest = carried;
    place += taken;
  }
}
