const MOST_DECIMALS = 9;

/** Rounds without the tail of binary fractions: never 56.950000000000045, never -0. */
export function roundTo(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

/** The same as text, without an exponent and without zeros at the end. */
export function roundedText(value: number, decimals: number): string {
  const text = roundTo(value, decimals).toFixed(decimals);
  return decimals === 0 ? text : text.replace(/\.?0+$/, "");
}

/**
 * Decimals for a field whose values are `raw × resolution + offset` in the unit shown: the fewest
 * (at most 9) that make both whole, else two more than the resolution's first digit.
 */
export function decimalsFor(resolution: number, offset = 0): number {
  for (let decimals = 0; decimals <= MOST_DECIMALS; decimals++) {
    const scale = 10 ** decimals;
    if (isWhole(resolution * scale) && (offset === 0 || isWhole(offset * scale))) return decimals;
  }
  const fallback = Math.ceil(2 - Math.log10(resolution));
  return Math.min(MOST_DECIMALS, Math.max(0, fallback));
}

/** Whole and not zero, but for the noise of binary fractions. */
function isWhole(value: number): boolean {
  const nearest = Math.round(value);
  return nearest !== 0 && Math.abs(value - nearest) <= 1e-13 * Math.abs(nearest);
}
