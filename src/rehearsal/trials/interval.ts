/** Two ends between which the truth lies with a confidence of 95 %. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/** 95 %: a share of this much is left out on either side. */
const TAIL = 0.025;

/**
 * For a share of which `found` of `count` were seen: the exact interval of C. J. Clopper and E. S.
 * Pearson, "The use of confidence or fiducial limits", Biometrika 26 (1934).
 */
export function shareInterval(found: number, count: number, tail = TAIL): Interval {
  return {
    from: found === 0
      ? 0
      : root(0, 1, (share) => binomialBelow(found - 1, count, share) - 1 + tail),
    to: found === count ? 1 : root(0, 1, (share) => binomialBelow(found, count, share) - tail),
  };
}

/**
 * For the number of events that come by chance in a span in which `found` were seen: the exact
 * interval of F. Garwood, "Fiducial limits for the Poisson distribution", Biometrika 28 (1936).
 */
export function countInterval(found: number, tail = TAIL): Interval {
  // Far above what any tail asks for, however few were seen.
  const most = 2 * found + 20;
  return {
    from: found === 0 ? 0 : root(0, most, (mean) => poissonBelow(found - 1, mean) - 1 + tail),
    to: root(0, most, (mean) => poissonBelow(found, mean) - tail),
  };
}

/** That at most `found` of `count` come when each comes with a probability of `share`. */
function binomialBelow(found: number, count: number, share: number): number {
  let logWays = 0;
  let sum = 0;
  for (let i = 0; i <= found; i++) {
    if (i > 0) logWays += Math.log((count - i + 1) / i);
    sum += Math.exp(logWays + i * Math.log(share) + (count - i) * Math.log1p(-share));
  }
  return sum;
}

/** That at most `found` come where `mean` are usual. */
function poissonBelow(found: number, mean: number): number {
  let logFactorial = 0;
  let sum = 0;
  for (let i = 0; i <= found; i++) {
    if (i > 0) logFactorial += Math.log(i);
    sum += Math.exp(i * Math.log(mean) - mean - logFactorial);
  }
  return sum;
}

/** Where a falling function passes zero, by halving to the last bit that matters. */
function root(low: number, high: number, falling: (x: number) => number): number {
  let [from, to] = [low, high];
  for (let i = 0; i < 60; i++) {
    const middle = (from + to) / 2;
    if (falling(middle) > 0) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
