import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const CLOCK_STEPS: Scenario = {
  name: "clock-steps",
  story: "Under way the computer's clock steps three hours on, and later back.",
  lasting: 4 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 1800), [
    { at: 80 * SECOND, do: "fault", fault: { kind: "clock-off", by: 3 * HOUR } },
    { at: 150 * SECOND, do: "repair", fault: { kind: "clock-off", by: 3 * HOUR } },
  ]),
};
