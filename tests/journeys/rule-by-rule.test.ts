import { expect, test } from "vitest";
import { PACK_NAMES, packRules } from "../support/pack-rehearsal.ts";
import { prove } from "../support/rule-proof.ts";
import { BATTERY_PROOFS } from "./rule-by-rule/batteries.ts";
import { BOAT_PROOFS } from "./rule-by-rule/boat.ts";
import { ENGINE_PROOFS } from "./rule-by-rule/engines.ts";
import { ELSEWHERE } from "./rule-by-rule/elsewhere.ts";

const PROOFS = { ...ENGINE_PROOFS, ...BATTERY_PROOFS, ...BOAT_PROOFS };

// The figures stand here a second time, by hand, so that a slip in a pack is seen.
for (const [pack, proofs] of Object.entries(PROOFS)) {
  test.each(proofs.map((proof) => [proof.tag, proof] as const))(
    `${pack}: %s rises beyond its limit after its delay, and not inside it nor sooner`,
    (_tag, proof) => prove(proof, packRules([pack])),
  );
}

test("every rule of every pack is seen to rise and to keep quiet, here or in a rehearsal", () => {
  for (const pack of PACK_NAMES) {
    const proven = new Set(PROOFS[pack]?.map(({ tag }) => tag));
    const wanting = packRules([pack]).map(({ tag }) => tag)
      .filter((tag) => !proven.has(tag) && ELSEWHERE[tag] === undefined);
    expect(wanting, pack).toEqual([]);
  }
});

test.each(Object.entries(ELSEWHERE))(
  "the rehearsal of %s is where it is said to be",
  (tag, file) => {
    const text = Deno.readTextFileSync(new URL(file, import.meta.url));
    expect(text).toContain(tag);
  },
);
