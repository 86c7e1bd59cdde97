import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const HEAT_SOAK: Scenario = {
  name: "heat-soak",
  story:
    "Both engines stop straight from hard work and grow hotter before they cool; then one starts again.",
  lasting: 20 * MINUTE,
  again: false,
  start: { ...ABOUT_TO_LEAVE, engines: 80 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 2500), [
    { at: 8 * MINUTE, do: "stop", engine: "port" },
    { at: 8 * MINUTE, do: "stop", engine: "starboard" },
    { at: 14 * MINUTE, do: "start", engine: "port" },
  ]),
};
