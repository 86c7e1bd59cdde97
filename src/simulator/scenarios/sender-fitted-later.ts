import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

const PRESSURE = { kind: "reading", device: "port-gateway", field: "oil-pressure" } as const;

export const SENDER_FITTED_LATER: Scenario = {
  name: "sender-fitted-later",
  story: "The port oil pressure has no sender; then one is fitted, and it is stuck at 45 psi.",
  lasting: 6 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(
    [
      { at: 0, do: "fault", fault: { ...PRESSURE, reads: "nothing" } },
      { at: 2 * MINUTE, do: "fault", fault: { ...PRESSURE, reads: "always", value: 310_300 } },
    ],
    startEngines(SECOND),
    getUnderWay(30 * SECOND, 1800),
    throttle(150 * SECOND, 1100),
    throttle(210 * SECOND, 2200),
    throttle(270 * SECOND, 900),
    throttle(320 * SECOND, 2000),
  ),
};
