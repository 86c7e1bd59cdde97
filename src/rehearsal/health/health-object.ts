import { isoTime, type Micros, SECOND } from "../../ground/time.ts";
import type { FalseAlarms } from "./health-lines.ts";
import { type Health, PER, rateIn } from "./health.ts";

/**
 * The measures as data, for programs: lengths in seconds, shares from 0 to 1, null where nothing is
 * known. Keys are stable (`tests/contracts/rehearsal/results.jsonl`).
 */
export function healthObject(health: Health, wrong: FalseAlarms): unknown {
  const { lasting, alarms, peak, floods, chattering, standing, priorities, frequent } = health;
  const flooded = floods.reduce((sum, flood) => sum + flood.lasting, 0);
  return {
    "health": {
      "lasting": secondsOf(lasting),
      alarms,
      "alarms-a-day": known(rateIn(health, PER.day)),
      "alarms-an-hour": known(rateIn(health, PER.hour)),
      "most-in-ten-minutes": peak,
      "floods": floods.map((flood) => ({
        "begins": isoTime(flood.begins, 6),
        "lasting": secondsOf(flood.lasting),
        "alarms": flood.alarms,
        "peak": flood.peak,
      })),
      "time-in-floods": known(flooded / lasting),
      "chattering": chattering.map(({ name, times }) => ({ "alarm": name, times })),
      "standing": standing.map((one) => ({ "alarm": one.name, "lasting": secondsOf(one.lasting) })),
      priorities,
      "most-frequent": frequent.map((one) => ({ "alarm": one.name, "alarms": one.alarms })),
      "false-alarms": {
        "count": wrong.count,
        "lasting": secondsOf(wrong.lasting),
        "a-month": known(wrong.count * PER.month / wrong.lasting),
      },
    },
  };
}

function secondsOf(length: Micros): number {
  return length / SECOND;
}

/** Nothing was followed: nothing is known. */
function known(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
