import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const ENGINE_ROOM_HOT: Scenario = {
  name: "engine-room-hot",
  story: "The engine room's fan stops under way.",
  lasting: 20 * MINUTE,
  again: false,
  aboard: { also: ["engine-room-sender"] },
  start: { ...ABOUT_TO_LEAVE, engines: 78 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 2500), [{
    at: 2 * MINUTE,
    do: "fault",
    fault: { kind: "engine-room-fan-stops" },
  }]),
};
