/** Characters of a malformed line that a person is shown. */
const SHOWN = 60;

/** The beginning of some bytes as a person can read it: what is not printable ASCII becomes "·". */
export function printable(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes.subarray(0, SHOWN)) {
    text += byte >= 0x20 && byte <= 0x7e ? String.fromCharCode(byte) : "·";
  }
  return bytes.length > SHOWN ? `${text}…` : text;
}

/** Bytes of a malformed record that a person is shown. */
const SHOWN_BYTES = 20;

/** The beginning of some bytes as hexadecimal pairs, for what is not text. */
export function hexadecimal(bytes: Uint8Array): string {
  const pairs = Array.from(
    bytes.subarray(0, SHOWN_BYTES),
    (byte) => byte.toString(16).toUpperCase().padStart(2, "0"),
  );
  return bytes.length > SHOWN_BYTES ? `${pairs.join(" ")} …` : pairs.join(" ");
}
