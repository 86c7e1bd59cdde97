import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const NOISY_SENDERS: Scenario = {
  name: "noisy-senders",
  story:
    "Senders with loose contacts: port oil pressure trembles, port coolant drops out, starboard speed stutters; the engines are well.",
  lasting: 6 * MINUTE,
  again: false,
  start: { ...ABOUT_TO_LEAVE, engines: 80 },
  happenings: woven(
    [
      {
        at: 40 * SECOND,
        do: "fault",
        fault: {
          kind: "reading",
          device: "port-gateway",
          field: "oil-pressure",
          reads: "noise",
          most: 90_000,
        },
      },
      {
        at: 40 * SECOND,
        do: "fault",
        fault: {
          kind: "reading",
          device: "port-gateway",
          field: "coolant-temperature",
          reads: "now-and-then",
          missing: 0.3,
        },
      },
      {
        at: 40 * SECOND,
        do: "fault",
        fault: {
          kind: "reading",
          device: "starboard-gateway",
          field: "speed",
          reads: "now-and-then",
          missing: 0.1,
        },
      },
    ],
    startEngines(SECOND),
    getUnderWay(20 * SECOND, 1900),
  ),
};
