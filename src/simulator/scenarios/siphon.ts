import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const SIPHON: Scenario = {
  name: "siphon",
  story: "After each run of the aft pump the sea comes back through its hose.",
  lasting: 40 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, aftBilge: 10.5 },
  happenings: [{ at: 0, do: "fault", fault: { kind: "bilge-siphons", bilge: "aft" } }],
};
