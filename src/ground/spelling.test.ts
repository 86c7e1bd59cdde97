import { expect, test } from "vitest";
import { nearestName } from "./spelling.ts";

const names = ["batteries", "boat", "bilges", "engines", "oil-pressure", "fuel-pressure"];

test("a name with a slip or two finds the one that was meant", () => {
  expect(nearestName("batterys", names)).toBe("batteries");
  expect(nearestName("baot", names)).toBe("boat");
  expect(nearestName("egnines", names)).toBe("engines");
  expect(nearestName("Oil Pressure", names)).toBe("oil-pressure");
});

test("a name that is nothing like any other finds none", () => {
  expect(nearestName("windscreen", names)).toBeUndefined();
  expect(nearestName("", names)).toBeUndefined();
});
