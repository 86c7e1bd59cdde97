import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const STATUS_WORDS_ZERO: Scenario = {
  name: "status-words-zero",
  story:
    "The port gateway always sends 0 as its status words, also when the oil pressure is gone: its switch is unplugged.",
  lasting: 3 * MINUTE,
  again: false,
  start: ABOUT_TO_LEAVE,
  happenings: woven(
    [
      {
        at: 0,
        do: "fault",
        fault: {
          kind: "reading",
          device: "port-gateway",
          field: "status-1",
          reads: "always",
          value: [],
        },
      },
      {
        at: 0,
        do: "fault",
        fault: {
          kind: "reading",
          device: "port-gateway",
          field: "status-2",
          reads: "always",
          value: [],
        },
      },
      { at: 100 * SECOND, do: "fault", fault: { kind: "oil-lost", engine: "port" } },
      { at: 110 * SECOND, do: "stop", engine: "port" },
    ],
    startEngines(SECOND),
    getUnderWay(30 * SECOND, 1800),
  ),
};
