import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

export const SLOW_GATEWAYS: Scenario = {
  name: "slow-gateways",
  story: "The gateways measure only every two and five seconds and repeat themselves meanwhile.",
  lasting: 4 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(
    [
      {
        at: 0,
        do: "fault",
        fault: { kind: "repeats-itself", device: "port-gateway", every: 2 * SECOND },
      },
      {
        at: 0,
        do: "fault",
        fault: { kind: "repeats-itself", device: "starboard-gateway", every: 5 * SECOND },
      },
    ],
    startEngines(SECOND),
    getUnderWay(30 * SECOND, 2200),
    throttle(2 * MINUTE, 700),
    throttle(150 * SECOND, 2200),
  ),
};
