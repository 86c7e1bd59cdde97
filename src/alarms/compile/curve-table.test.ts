import { describe, expect, test } from "vitest";
import { CurveTable } from "./curve-table.ts";

/** The diesel's curve of the rule packs, in 1/min and psi: common practice and makers' manuals. */
const OIL = new CurveTable([
  { at: 700, limit: 10 },
  { at: 1200, limit: 15 },
  { at: 1800, limit: 25 },
  { at: 2600, limit: 30 },
]);

describe("a limit along a curve", () => {
  // Worked by hand: 950 is half way from 700 to 1200; 1500 half way from 1200 to 1800;
  // 2000 a quarter of the way from 1800 to 2600.
  test.each([[700, 10], [950, 12.5], [1200, 15], [1500, 20], [1800, 25], [2000, 26.25], [
    2600,
    30,
  ]])(
    "at %d is %d",
    (at, limit) => expect(OIL.limitAt(at)).toBeCloseTo(limit, 9),
  );

  test("is held flat beyond both ends", () => {
    expect([OIL.limitAt(0), OIL.limitAt(699), OIL.limitAt(9999)]).toEqual([10, 10, 30]);
  });

  test("is not known where the place is not", () => {
    expect(OIL.limitAt(NaN)).toBeNaN();
  });

  test("of one point is the same everywhere", () => {
    const flat = new CurveTable([{ at: 1000, limit: 7 }]);
    expect([flat.limitAt(0), flat.limitAt(1000), flat.limitAt(2000)]).toEqual([7, 7, 7]);
  });
});
