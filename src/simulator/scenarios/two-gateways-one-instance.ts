import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

export const TWO_GATEWAYS_ONE_INSTANCE: Scenario = {
  name: "two-gateways-one-instance",
  story:
    "Both engine gateways say instance 0: 3,000 and 700 rpm alternate as if one engine said both.",
  lasting: 4 * MINUTE,
  again: false,
  aboard: { engines: "petrol-v8s" },
  start: { ...ABOUT_TO_LEAVE, engines: 64 },
  happenings: woven(
    [{
      at: 0,
      do: "fault",
      fault: { kind: "instance-not-set", device: "starboard-gateway", instance: 0 },
    }],
    startEngines(SECOND),
    getUnderWay(20 * SECOND, 700),
    throttle(40 * SECOND, 3000, ["port"]),
  ),
};
