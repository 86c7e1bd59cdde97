import { expect, test } from "vitest";
import { canAddress } from "./linux-can.ts";

test("the address of an interface has its family first, then its number", () => {
  const bytes = [...canAddress(0x01020304)];
  expect(bytes.slice(0, 8)).toEqual([29, 0, 0, 0, 4, 3, 2, 1]);
  expect(bytes).toHaveLength(24);
});
