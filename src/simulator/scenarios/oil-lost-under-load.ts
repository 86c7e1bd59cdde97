import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, throttle, woven } from "./passages.ts";

export const OIL_LOST_UNDER_LOAD: Scenario = {
  name: "oil-lost-under-load",
  story:
    "A hose bursts at 3,000 rpm: no oil pressure; after eight seconds the owner stops the engine and its gateway dies with the key.",
  lasting: 4 * MINUTE,
  again: false,
  aboard: { engines: "petrol-v8s" },
  start: { ...ABOUT_TO_LEAVE, engines: 64 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 3000), [
    { at: 90 * SECOND, do: "fault", fault: { kind: "oil-lost", engine: "port" } },
    { at: 98 * SECOND, do: "key-off", engine: "port", gateway: "dies" },
  ], throttle(102 * SECOND, 900, ["starboard"])),
};
