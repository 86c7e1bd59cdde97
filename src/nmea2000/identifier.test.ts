import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  destinationOf,
  EVERYBODY,
  identifierOf,
  isAddressed,
  pgnOf,
  priorityOf,
  sourceOf,
} from "./identifier.ts";

describe("an identifier", () => {
  test("comes back from its parts, whatever it is", () => {
    fc.assert(fc.property(fc.nat(0x1fffffff), (identifier) => {
      const parts = {
        priority: priorityOf(identifier),
        pgn: pgnOf(identifier),
        source: sourceOf(identifier),
        destination: destinationOf(identifier),
      };
      expect(identifierOf(parts)).toBe(identifier);
    }));
  });

  test("has a destination below PDU format 240 and none from there on", () => {
    expect(destinationOf(0x18ef4200)).toBe(0x42);
    expect(pgnOf(0x18ef4200)).toBe(0xef00);
    expect(destinationOf(0x18f04200)).toBe(EVERYBODY);
    expect(pgnOf(0x18f04200)).toBe(0xf042);
    expect(isAddressed(0x1ed00)).toBe(true);
    expect(isAddressed(0x1f200)).toBe(false);
  });

  test("is everybody's when no destination is given", () => {
    expect(identifierOf({ priority: 6, pgn: 60928, source: 35 })).toBe(0x18eeff23);
  });

  test.each([
    [{ priority: 8, pgn: 127488, source: 1 }, "priority is 8"],
    [{ priority: 6, pgn: 0x40000, source: 1 }, "PGN is 262144"],
    [{ priority: 6, pgn: 127488, source: 256 }, "source is 256"],
    [{ priority: 6, pgn: 127488, source: 1, destination: 4 }, "PGN 127488 goes to everybody"],
    [{ priority: 6, pgn: 59905, source: 1, destination: 4 }, "has a destination in its low byte"],
  ])("is refused for parts that do not fit: %o", (parts, message) => {
    expect(() => identifierOf(parts)).toThrow(message);
  });
});
