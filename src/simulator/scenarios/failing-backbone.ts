import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const FAILING_BACKBONE: Scenario = {
  name: "failing-backbone",
  story:
    "One terminator is gone: errors while the radio transmits, messages with holes, others in between, and a charger message that arrives as a single frame.",
  lasting: 7 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(startEngines(SECOND), getUnderWay(30 * SECOND, 1800), [
    { at: 100 * SECOND, do: "fault", fault: { kind: "backbone-fails", when: "radio-transmits" } },
    { at: 100 * SECOND, do: "fault", fault: { kind: "frames-interleave" } },
    { at: 100 * SECOND, do: "fault", fault: { kind: "misframed", device: "charger", pgn: 127507 } },
    { at: 120 * SECOND, do: "radio", transmits: true },
    { at: 170 * SECOND, do: "radio", transmits: false },
    { at: 240 * SECOND, do: "radio", transmits: true },
    { at: 320 * SECOND, do: "radio", transmits: false },
  ]),
};
