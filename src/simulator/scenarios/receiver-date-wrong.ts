import { DAY, MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

/** A recording of 2026 is then stamped in January 1970. */
const IN_1970 = -20_600 * DAY;

export const RECEIVER_DATE_WRONG: Scenario = {
  name: "receiver-date-wrong",
  story:
    "The receiver tells a date 1,024 weeks old, then nothing, then 0°, 0°, then the truth; the computer that stamps the frames began in 1970.",
  lasting: 6 * MINUTE,
  again: false,
  start: AT_THE_MOORING,
  happenings: [
    { at: 0, do: "fault", fault: { kind: "clock-off", by: IN_1970 } },
    { at: 0, do: "fault", fault: { kind: "receiver-believes", what: "old-date" } },
    { at: 90 * SECOND, do: "fault", fault: { kind: "receiver-believes", what: "nothing" } },
    { at: 150 * SECOND, do: "fault", fault: { kind: "receiver-believes", what: "zero" } },
    { at: 200 * SECOND, do: "repair", fault: { kind: "receiver-believes", what: "zero" } },
    { at: 280 * SECOND, do: "repair", fault: { kind: "clock-off", by: IN_1970 } },
  ],
};
