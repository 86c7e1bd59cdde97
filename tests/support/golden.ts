import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { expect } from "vitest";

/**
 * Holds a text against a golden file. With `STERNFAST_GOLDEN=write` the file is written instead:
 * look at the difference before it is committed.
 */
export function expectGolden(file: string, text: string): void {
  if (Deno.env.get("STERNFAST_GOLDEN") === "write") {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
    return;
  }
  expect(existsSync(file), `${file} is missing; STERNFAST_GOLDEN=write makes it`).toBe(true);
  expect(text).toBe(readFileSync(file, "utf8"));
}
