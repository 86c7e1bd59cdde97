import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const NOT_CHARGING: Scenario = {
  name: "not-charging",
  story: "The starboard alternator's belt is off: the start battery gets nothing under way.",
  lasting: 8 * MINUTE,
  again: false,
  start: { ...ABOUT_TO_LEAVE, battery: 0.8 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 1800), [{
    at: 2 * MINUTE,
    do: "fault",
    fault: { kind: "alternator-dead", engine: "starboard" },
  }]),
};
