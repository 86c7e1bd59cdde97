import { expect, test } from "vitest";
import { axisOf } from "./axis.ts";

test("no value but nought lies on the axis, where its line would not be seen", () => {
  expect(axisOf([70, 75], "%", {})).toMatchObject({ bottom: 68, bottomLabel: "68 %" });
  expect(axisOf([70.5, 75], "%", {})).toMatchObject({ bottom: 70 });
  expect(axisOf([10, 10], "%", {}).bottom).toBeLessThan(10);
  expect(axisOf([0, 75], "%", {})).toMatchObject({ bottom: 0 });
  expect(axisOf([700, 900], "1/min", {}, [0, 1000])).toMatchObject({ bottom: 0 });
  expect(axisOf([NaN], "%", {})).toMatchObject({ bottom: 0, top: 1 });
});
