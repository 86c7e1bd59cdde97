import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const FRIDGE_CYCLES: Scenario = {
  name: "fridge-cycles",
  story:
    "Without shore power the fridge takes 5 A for twelve minutes of every thirty-six; all is well.",
  lasting: 50 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.8 },
  happenings: [],
};
