import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const BUS_GOES_DEAD: Scenario = {
  name: "bus-goes-dead",
  story:
    "The protection of the house bank opens at the mooring: the whole bus is dead for three minutes.",
  lasting: 7 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.8 },
  happenings: [
    { at: 2 * MINUTE, do: "fault", fault: { kind: "house-opens" } },
    { at: 5 * MINUTE, do: "repair", fault: { kind: "house-opens" } },
  ],
};
