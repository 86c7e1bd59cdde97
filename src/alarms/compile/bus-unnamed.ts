import type { Rule } from "../rules/rule.ts";
import { builtInCaution } from "./built-in-caution.ts";

/** Tag of the built-in caution that several buses speak, and nobody has said which is which. */
export const BUS_UNNAMED = "bus-unnamed";

/** The built-in caution about one bus. @param signal its bit */
export function busUnnamedRule(signal: string): Rule {
  return builtInCaution({
    tag: BUS_UNNAMED,
    title: "Several buses, and this one has no name",
    test: { kind: "bit-pattern", bits: [{ signal: { name: signal, of: null }, on: true }] },
    consequence: "What is called by number may be called otherwise after the next start: " +
      "only the bus that speaks first has names without its own.",
    response: {
      aboard: "Name every bus under `networks:` in the boat file.",
      ashore: "Name every bus under `networks:` in the boat file.",
    },
  });
}
