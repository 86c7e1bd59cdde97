const FIRST_PRINTABLE = 0x20;
const LAST_PRINTABLE = 0x7e;

/**
 * A fixed-length text: it ends at the first 0xFF or zero, and spaces at its end are padding. A byte
 * that is no printable ASCII becomes U+FFFD, so that what a device sends can be shown anywhere.
 */
export function readText(bytes: Uint8Array, start: number, length: number): string {
  let text = "";
  for (const byte of bytes.subarray(start, start + length)) {
    if (byte === 0 || byte === 0xff) break;
    const printable = byte >= FIRST_PRINTABLE && byte <= LAST_PRINTABLE;
    text += printable ? String.fromCharCode(byte) : "\ufffd";
  }
  return text.trimEnd();
}

/**
 * Writes a text and fills the rest with 0xFF.
 *
 * @throws {RangeError} for a text that is too long or not printable ASCII.
 */
export function writeText(text: string, bytes: Uint8Array, start: number, length: number): void {
  if (text.length > length) {
    throw new RangeError(`"${text}" has ${text.length} characters, expected at most ${length}`);
  }
  bytes.fill(0xff, start, start + length);
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < FIRST_PRINTABLE || code > LAST_PRINTABLE) {
      throw new RangeError(`"${text}" has a character that is not printable ASCII`);
    }
    bytes[start + i] = code;
  }
}
