import { expect, test } from "vitest";
import { readByteSize } from "./byte-size.ts";
import { CommandFailure } from "./exit-codes.ts";

test.each([["50 MB", 50_000_000], ["1.5GB", 1_500_000_000], ["200 kb", 200_000]])(
  "%s is a size",
  (text, bytes) => {
    expect(readByteSize("--most", text)).toBe(bytes);
  },
);

test.each(["50", "0 MB", "MB", "5 MiB", "-5 MB"])("%s is none", (text) => {
  expect(() => readByteSize("--most", text)).toThrow(CommandFailure);
});
