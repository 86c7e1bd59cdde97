import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const GEARBOX_SLIPS: Scenario = {
  name: "gearbox-slips",
  story: "The port gearbox loses the pressure that presses its clutch, and its oil grows hot.",
  lasting: 15 * MINUTE,
  again: false,
  aboard: { also: ["gearbox-senders"] },
  start: ABOUT_TO_LEAVE,
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 2300), [{
    at: 90 * SECOND,
    do: "fault",
    fault: { kind: "gearbox-slips", engine: "port" },
  }]),
};
