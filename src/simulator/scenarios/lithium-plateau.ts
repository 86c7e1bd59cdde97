import { HOUR, MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const LITHIUM_PLATEAU: Scenario = {
  name: "lithium-plateau",
  story: "A lithium bank gives a third of its charge and its volts hardly move.",
  lasting: HOUR,
  again: false,
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.75 },
  happenings: [{ at: MINUTE, do: "load", amperes: 120 }],
};
