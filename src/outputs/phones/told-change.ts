import type { AlarmChange } from "../../alarms/change.ts";

/**
 * What a phone is told about a change: that an alarm was raised, that it is over, or nothing.
 * Cautions, answers, and alarms that are held are for the page.
 */
export function toldAs(change: AlarmChange): "raised" | "returned" | null {
  const { from, to, hold, priority } = change;
  if (priority === "caution" || hold !== "none") return null;
  if (to === "unacknowledged") return "raised";
  const wasActive = from === "unacknowledged" || from === "acknowledged";
  return wasActive && to !== "acknowledged" ? "returned" : null;
}
