import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const STATUS_WORDS_NOT_AVAILABLE: Scenario = {
  name: "status-words-not-available",
  story: 'Both status words of the port engine are FFFF, "not available", while all else is well.',
  lasting: 3 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(
    [
      {
        at: 0,
        do: "fault",
        fault: { kind: "reading", device: "port-gateway", field: "status-1", reads: "nothing" },
      },
      {
        at: 0,
        do: "fault",
        fault: { kind: "reading", device: "port-gateway", field: "status-2", reads: "nothing" },
      },
    ],
    startEngines(SECOND),
    getUnderWay(30 * SECOND, 1800),
  ),
};
