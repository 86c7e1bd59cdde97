/** A curve as points in rising order of x. */
export type Curve = readonly (readonly [x: number, y: number])[];

/** Straight between the points, flat beyond the ends. */
export function along(curve: Curve, x: number): number {
  let [beforeX, beforeY] = curve[0];
  if (x <= beforeX) return beforeY;
  for (const [pointX, pointY] of curve) {
    if (x < pointX) {
      return beforeY + (pointY - beforeY) * (x - beforeX) / (pointX - beforeX);
    }
    beforeX = pointX;
    beforeY = pointY;
  }
  return beforeY;
}
