import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Fault } from "../fault.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE } from "./passages.ts";

const SWAPPED: Fault = {
  kind: "addresses-swapped",
  devices: ["port-gateway", "starboard-gateway"],
};

export const CRANKING_RESETS_THE_BUS: Scenario = {
  name: "cranking-resets-the-bus",
  story:
    "A tired battery feeds both starter and bus: cranking pulls it to 8 V, the boxes start anew and two of them change addresses.",
  lasting: 2 * MINUTE,
  again: false,
  aboard: { busFedBy: "start" },
  start: { ...ABOUT_TO_LEAVE, engines: 12 },
  happenings: [
    { at: 0, do: "fault", fault: { kind: "start-battery-tired", times: 2.9 } },
    { at: 20 * SECOND, do: "key-on", engine: "port" },
    { at: 24 * SECOND, do: "start", engine: "port" },
    // While they are away: each then claims the address that was the other's.
    { at: 25 * SECOND, do: "fault", fault: SWAPPED },
  ],
};
