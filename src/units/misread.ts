import { type Dimension, DIMENSIONS } from "./dimension.ts";
import { ambiguousUnit, nearestUnit, unitNames } from "./units.ts";

/** Why a text is not what was asked for; the words fit a "wrong-value" problem. */
export interface Misread {
  readonly ok: false;
  /** As written. */
  readonly found: string;
  readonly expected: string;
  readonly nearest?: string;
}

/** No number, a number without a unit, or a number with a comma. */
export function misreadNumber(text: string, dimension: Dimension | undefined): Misread {
  const expected = dimension === undefined
    ? "a number with its unit, such as 10 psi"
    : `${DIMENSIONS[dimension].words} with its unit, such as ${DIMENSIONS[dimension].example}`;
  if (/^[^,]*\d,\d/.test(text)) {
    return { ok: false, found: text, expected: `${expected}, without a comma in the number` };
  }
  return { ok: false, found: text, expected };
}

/** A unit that is not known, or that could be one of several. */
export function misreadUnit(text: string, unit: string, dimension: Dimension | undefined): Misread {
  const meanings = ambiguousUnit(unit);
  if (meanings.length > 0) {
    return { ok: false, found: text, expected: `either ${meanings.join(" or ")}` };
  }
  const nearest = nearestUnit(unit, dimension);
  const expected = dimension === undefined
    ? "a unit that is known here"
    : `${DIMENSIONS[dimension].words} in ${unitNames(dimension)}`;
  if (nearest === undefined) return { ok: false, found: text, expected };
  const number = text.slice(0, text.lastIndexOf(unit)).trim();
  return { ok: false, found: text, expected, nearest: `${number} ${nearest.name}` };
}

/** A quantity of another kind. */
export function misreadDimension(text: string, found: Dimension, wanted: Dimension): Misread {
  const { words, example } = DIMENSIONS[wanted];
  return {
    ok: false,
    found: text,
    expected: `${words}, such as ${example}; ${text.trim()} is ${DIMENSIONS[found].words}`,
  };
}
