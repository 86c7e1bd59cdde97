/** A number at the start of a text, and what follows it. */
export interface NumberText {
  readonly number: number;
  readonly rest: string;
}

const NUMBER = /^\s*([+\u2212-]?)((?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)(?![.,\d])\s*(.*?)\s*$/s;

/**
 * Splits `10 psi` into 10 and `psi`. A comma is refused, because `1,800` is eighteen hundred to one
 * reader and one point eight to another. A minus sign may be the typographic one.
 */
export function splitNumber(text: string): NumberText | undefined {
  const parts = NUMBER.exec(text);
  if (parts === null) return undefined;
  const size = Number(parts[2]);
  if (!Number.isFinite(size)) return undefined;
  const negative = parts[1] === "-" || parts[1] === "\u2212";
  return { number: negative && size !== 0 ? -size : size, rest: parts[3] };
}
