import { expect, test } from "vitest";
import { nameBytes, nameFrom, namePartsOf } from "./name.ts";

test("a NAME is written highest byte first and comes back as the bytes of its claim", () => {
  const claim = Uint8Array.of(0x4d, 0x74, 0x30, 0x04, 0x00, 0x34, 0x02, 0x20);
  const name = nameFrom(claim, 0);
  expect(name).toBe("200234000430744d");
  expect(nameBytes(name)).toEqual(claim);
});

test("the parts of a NAME lie where the standard has them", () => {
  expect(namePartsOf("c5" + "8c" + "82" + "29" + "22a00001")).toEqual({
    identityNumber: 1,
    manufacturerCode: 0x22a00001 >>> 21,
    deviceInstance: 0x29,
    function: 0x82,
    class: 0x8c >> 1,
    systemInstance: 5,
    industryGroup: 4,
    arbitraryAddress: true,
  });
});
