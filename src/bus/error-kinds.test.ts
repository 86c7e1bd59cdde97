import { describe, expect, test } from "vitest";
import { errorKinds } from "./error-kinds.ts";

/** Error frames as `candump -L` writes them, without their error flag. */
const kindsOf = (identifier: number, ...data: number[]) =>
  errorKinds(identifier, new Uint8Array([0xff, ...data, 0xff, 0xff]), 1, data.length);

describe("the kinds of an error frame", () => {
  test("are told by its class", () => {
    expect(kindsOf(0x040)).toEqual(["bus-off"]);
    expect(kindsOf(0x100)).toEqual(["restarted"]);
    expect(kindsOf(0x020)).toEqual(["no-acknowledge"]);
    expect(kindsOf(0x200, 0, 0, 0, 0, 0, 0, 96, 8)).toEqual([]);
  });

  test("are told by the controller's byte, where the class is the controller", () => {
    expect(kindsOf(0x004, 0, 0x01)).toEqual(["overflow"]);
    expect(kindsOf(0x004, 0, 0x10)).toEqual(["error-passive"]);
    expect(kindsOf(0x004, 0, 0x08)).toEqual(["error-warning"]);
    expect(kindsOf(0x004, 0, 0x40)).toEqual(["error-active"]);
    expect(kindsOf(0x008, 0, 0x10)).toEqual(["protocol-violation"]);
  });

  test("may be several", () => {
    expect(kindsOf(0x0ac, 0, 0x21)).toEqual([
      "protocol-violation",
      "no-acknowledge",
      "bus-error",
      "overflow",
      "error-passive",
    ]);
  });
});
