/** Value of each byte as a hexadecimal digit of either case; -1 where it is none. */
export const HEX_VALUE = new Int8Array(256).fill(-1);

/** The digits that `candump` writes, as bytes. */
export const HEX_DIGIT = new TextEncoder().encode("0123456789ABCDEF");

for (let value = 0; value < 16; value++) {
  HEX_VALUE[HEX_DIGIT[value]] = value;
  HEX_VALUE[value.toString(16).charCodeAt(0)] = value;
}
