import { defineConfig } from "vitest/config";
import { LongestFirst } from "./tests/support/longest-first.ts";

/**
 * Four projects:
 * - `machine` has the virtual machine with a CAN bus to itself: beside others it takes twice as long;
 * - `pure` needs nothing but Deno and runs inside `deno task ok`;
 * - `whole` crosses floors and uses real parts (a broker, a browser, tshark);
 * - `soak` holds the long runs, started by hand.
 */
const machine = ["tests/vm/**/*.test.ts"];
const pure = [
  "src/**/*.test.ts",
  "tests/contracts/**/*.test.ts",
  "tests/floors/**/*.test.ts",
];

export default defineConfig({
  test: {
    // Most of the time goes into waiting for programs that tests have started: two wait together.
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    reporters: ["default", "./tests/support/closing-line.ts"],
    projects: [
      { test: { name: "machine", include: machine, sequence: { groupOrder: 1 } } },
      { test: { name: "pure", include: pure, sequence: { groupOrder: 2 } } },
      {
        test: {
          name: "whole",
          include: ["tests/**/*.test.ts"],
          exclude: [...machine, ...pure, "tests/**/*.soak.test.ts"],
          sequence: { groupOrder: 2 },
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      ...(Deno.env.get("STERNFAST_SOAK") === "yes"
        ? [{
          test: {
            name: "soak",
            include: ["tests/**/*.soak.test.ts"],
            sequence: { groupOrder: 3 },
            testTimeout: 3_600_000,
          },
        }]
        : []),
    ],
  },
});
