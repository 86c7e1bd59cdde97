import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const OVER_VOLTAGE: Scenario = {
  name: "over-voltage",
  story: "The starboard regulator fails: 16 V on the start battery.",
  lasting: 5 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 1800), [{
    at: 2 * MINUTE,
    do: "fault",
    fault: { kind: "alternator-unregulated", engine: "starboard" },
  }]),
};
