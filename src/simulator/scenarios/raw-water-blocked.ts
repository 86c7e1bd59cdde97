import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const RAW_WATER_BLOCKED: Scenario = {
  name: "raw-water-blocked",
  story: "A plastic bag in the port intake: first the exhaust grows hot, then the coolant.",
  lasting: 7 * MINUTE,
  again: false,
  aboard: { also: ["exhaust-senders", "engine-room-sender"] },
  start: { ...ABOUT_TO_LEAVE, engines: 78 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 2200), [{
    at: 90 * SECOND,
    do: "fault",
    fault: { kind: "coolant-blocked", engine: "port", open: 0.05 },
  }]),
};
