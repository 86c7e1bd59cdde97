/**
 * How many decimals a value is shown with (contract §3): the fewest, at most 9, with which resolution
 * and offset are whole; where there is no such count (radians shown as degrees), two digits beyond
 * the resolution.
 *
 * @param resolution in the unit shown
 * @param offset in the unit shown
 */
export function decimalsFor(resolution: number, offset = 0): number {
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    if (isWhole(resolution * 10 ** decimals) && isWhole(offset * 10 ** decimals)) return decimals;
  }
  return Math.min(MOST_DECIMALS, Math.max(0, Math.ceil(2 - Math.log10(resolution))));
}

/** A value as it is shown: 56.950000000000045 with two decimals is 56.95. */
export function rounded(value: number, decimals: number): number {
  // Adding zero turns the −0 of a tiny negative value into 0.
  return Number(value.toFixed(decimals)) + 0;
}

/** The same as text, without an exponent and without zeros at the end. */
export function roundedText(value: number, decimals: number): string {
  const text = rounded(value, decimals).toFixed(decimals);
  return decimals === 0 ? text : text.replace(/\.?0+$/, "");
}

const MOST_DECIMALS = 9;

/** Room for what a resolution such as 0.1 leaves over in binary; a real fraction is far larger. */
const LEFT_OVER = 1e-6;

function isWhole(value: number): boolean {
  const nearest = Math.round(value);
  if (nearest === 0) return value === 0;
  return Math.abs(value - nearest) < LEFT_OVER * Math.min(1, Math.abs(value));
}
