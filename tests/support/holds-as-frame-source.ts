import { describe, test } from "vitest";
import { conformanceOf, type SourceUnderTest } from "./source-conformance.ts";

/** The suite that holds for every source of frames, as tests here. */
export function holdsAsFrameSource(name: string, source: SourceUnderTest): void {
  describe(`${name}, as a source of frames`, () => {
    test.each([...conformanceOf(source)])("$promise", ({ holds }) => holds());
  });
}
