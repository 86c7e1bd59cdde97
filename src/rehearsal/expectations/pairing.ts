/**
 * Pairs as many of the left as can be, each with one of the right that it fits (augmenting paths).
 * @returns by left: its right, or -1
 */
export function pair(
  leftCount: number,
  rightCount: number,
  fits: (left: number, right: number) => boolean,
): number[] {
  const leftOf = new Array<number>(rightCount).fill(-1);

  function tryFor(left: number, tried: Set<number>): boolean {
    for (let right = 0; right < rightCount; right++) {
      if (tried.has(right) || !fits(left, right)) continue;
      tried.add(right);
      if (leftOf[right] < 0 || tryFor(leftOf[right], tried)) {
        leftOf[right] = left;
        return true;
      }
    }
    return false;
  }

  for (let left = 0; left < leftCount; left++) tryFor(left, new Set());
  const rightOf = new Array<number>(leftCount).fill(-1);
  leftOf.forEach((left, right) => {
    if (left >= 0) rightOf[left] = right;
  });
  return rightOf;
}
