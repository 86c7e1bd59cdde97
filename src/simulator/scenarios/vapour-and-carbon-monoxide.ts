import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const VAPOUR_AND_CARBON_MONOXIDE: Scenario = {
  name: "vapour-and-carbon-monoxide",
  story: "Petrol vapour in the engine room, later carbon monoxide, at last a detector in fault.",
  lasting: 5 * MINUTE,
  again: false,
  aboard: { engines: "petrol-v8s", also: ["detectors"] },
  start: AT_THE_MOORING,
  happenings: [
    { at: 60 * SECOND, do: "petrol-vapour", there: true },
    { at: 100 * SECOND, do: "petrol-vapour", there: false },
    { at: 130 * SECOND, do: "carbon-monoxide", there: true },
    { at: 170 * SECOND, do: "carbon-monoxide", there: false },
    { at: 180 * SECOND, do: "fault", fault: { kind: "detector-faulty" } },
  ],
};
