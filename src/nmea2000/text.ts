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
    text += isPrintable(byte) ? String.fromCharCode(byte) : "\ufffd";
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
    if (!isPrintable(code)) {
      throw new RangeError(`"${text}" has a character that is not printable ASCII`);
    }
    bytes[start + i] = code;
  }
}

/** Alphabets of a text that says its own length. From memory. */
const Alphabet = { utf16: 0, ascii: 1 } as const;
/** Bytes before such a text: its length, these two included, and its alphabet. */
const TEXT_HEAD = 2;
const MOST_TEXT = 255 - TEXT_HEAD;

/**
 * Texts one after another, each with its length and its alphabet before it. A length that cannot be
 * ends the list: where the next text would begin is not known.
 */
export function readTexts(bytes: Uint8Array, start: number, end: number): string[] {
  const texts: string[] = [];
  for (let at = start; at + TEXT_HEAD <= end;) {
    const next = at + bytes[at];
    if (bytes[at] < TEXT_HEAD || next > end) break;
    const from = at + TEXT_HEAD;
    texts.push(
      bytes[at + 1] === Alphabet.utf16
        ? readUtf16(bytes, from, next)
        : readText(bytes, from, next - from),
    );
    at = next;
  }
  return texts;
}

/**
 * The bytes of texts as `readTexts` reads them, each in ASCII where it can be.
 *
 * @throws {RangeError} for a text that is too long.
 */
export function textsBytes(texts: readonly string[]): Uint8Array {
  return Uint8Array.from(texts.flatMap((text) => {
    const isPlain = [...text].every((letter) => isPrintable(letter.charCodeAt(0)));
    const bytes = isPlain
      ? Array.from(text, (letter) => letter.charCodeAt(0))
      : Array.from({ length: 2 * text.length }, (_, i) => text.charCodeAt(i >> 1) >> 8 * (i & 1));
    if (bytes.length > MOST_TEXT) {
      throw new RangeError(`"${text}" has ${bytes.length} bytes, expected at most ${MOST_TEXT}`);
    }
    return [TEXT_HEAD + bytes.length, isPlain ? Alphabet.ascii : Alphabet.utf16, ...bytes];
  }));
}

/** A character that is no letter, half of a pair, or has no business on a screen becomes U+FFFD. */
function readUtf16(bytes: Uint8Array, start: number, end: number): string {
  let text = "";
  for (let at = start; at + 1 < end; at += 2) {
    const code = bytes[at] | (bytes[at + 1] << 8);
    if (code === 0 || code === 0xffff) break;
    text += String.fromCharCode(code);
  }
  return text.toWellFormed().replace(/\p{C}/gu, "\ufffd").trimEnd();
}

function isPrintable(code: number): boolean {
  return code >= FIRST_PRINTABLE && code <= LAST_PRINTABLE;
}
