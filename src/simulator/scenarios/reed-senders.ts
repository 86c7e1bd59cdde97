import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const REED_SENDERS: Scenario = {
  name: "reed-senders",
  story: "Tank senders that know only steps of 4.5 % in a rough sea: levels jump to and fro.",
  lasting: 12 * MINUTE,
  again: false,
  aboard: { tankSenders: "reed" },
  start: ABOUT_TO_LEAVE,
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 1900), [{
    at: 60 * SECOND,
    do: "waves",
    times: 4,
  }]),
};
