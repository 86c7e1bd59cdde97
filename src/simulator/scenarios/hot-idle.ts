import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

export const HOT_IDLE: Scenario = {
  name: "hot-idle",
  story:
    "Hard work, then idle with hot oil: its pressure is as low as it ever is in a healthy engine.",
  lasting: 14 * MINUTE,
  again: false,
  start: { ...ABOUT_TO_LEAVE, engines: 84 },
  happenings: woven(
    startEngines(SECOND),
    getUnderWay(20 * SECOND, 2600),
    throttle(9 * MINUTE, 700),
  ),
};
