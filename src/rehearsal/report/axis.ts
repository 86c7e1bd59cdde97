import { roundEnds } from "../../drawing/line-plot.ts";
import type { UnitCode } from "../../units/codes.ts";
import { convert, scaleOf } from "../../units/scale.ts";
import { ownersUnitFor, type OwnersUnits } from "../../units/units.ts";

/** An upright axis in the owner's unit, with round numbers at its ends. */
export interface Axis {
  readonly bottom: number;
  readonly top: number;
  readonly bottomLabel: string;
  readonly topLabel: string;
  /** A value of the signal as it stands on this axis. */
  readonly place: (value: number) => number;
}

/** @param least the axis reaches at least this far, in the signal's unit */
export function axisOf(
  values: readonly number[],
  unit: UnitCode,
  owners: OwnersUnits,
  least: readonly number[] = [],
): Axis {
  const own = ownersUnitFor(unit, owners);
  const place = (value: number) =>
    own === undefined || unit === "" ? value : convert(value, scaleOf(unit), own);
  const held = [...values, ...least].map(place);
  const { bottom, top } = roundEnds([...held, ...justBelow(held)]);
  const name = own?.name ?? "";
  // Steps are 1, 2 or 5 times a power of ten: more digits are noise of binary fractions.
  const label = (end: number) =>
    `${Number(end.toPrecision(6)).toLocaleString("en-GB")} ${name}`.trim();
  return { bottom, top, bottomLabel: label(bottom), topLabel: label(top), place };
}

/** Room under a line that would lie on the axis and not be seen; nought belongs there. */
function justBelow(values: readonly number[]): number[] {
  const known = values.filter(Number.isFinite);
  const [lowest, highest] = [Math.min(...known), Math.max(...known)];
  return lowest === 0 || known.length === 0
    ? []
    : [lowest - (highest - lowest || Math.abs(lowest)) / 50];
}

/**
 * An axis of codes, which has words at its ends; half a code of space lies beyond them. One code
 * alone lies just over its word.
 */
export function axisOfWords(
  values: readonly number[],
  words: ReadonlyMap<number, string>,
): Axis {
  const known = values.filter((value) => !Number.isNaN(value));
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const label = (code: number) => (words.get(code) ?? String(code)).replaceAll("-", " ");
  const isOne = most === least;
  return {
    bottom: least - (isOne ? 0.1 : 0.5),
    top: most + (isOne ? 0.9 : 0.5),
    bottomLabel: label(least),
    topLabel: isOne ? "" : label(most),
    place: (value) => value,
  };
}
