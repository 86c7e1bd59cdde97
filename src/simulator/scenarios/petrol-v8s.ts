import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

export const PETROL_V8S: Scenario = {
  name: "petrol-v8s",
  story: "Two petrol V8s that the sea cools: out at 3,200 rpm and back to idle; all is well.",
  lasting: 10 * MINUTE,
  again: false,
  aboard: { engines: "petrol-v8s", also: ["detectors", "exhaust-senders"] },
  start: { ...ABOUT_TO_LEAVE, engines: 40 },
  happenings: woven(
    startEngines(SECOND),
    getUnderWay(60 * SECOND, 1500),
    throttle(2 * MINUTE, 3200),
    throttle(8 * MINUTE, 650),
  ),
};
