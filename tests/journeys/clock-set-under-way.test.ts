import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { boatFrom, packsFor, scenarioRaises } from "../support/pack-rehearsal.ts";
import { ROOT } from "../support/sternfast.ts";

const BOAT = boatFrom(readFileSync(`${ROOT}/examples/hazel-comfort/boat.yaml`, "utf8"));

test.each(["aboard", "left"] as const)(
  "situation 11: whatever the receiver says, and when the computer's clock is set, nothing is raised (%s)",
  async (condition) => {
    const rules = packsFor("diesel");
    expect(await scenarioRaises("receiver-date-wrong", { boat: BOAT, rules, condition })).toEqual(
      [],
    );
  },
);
