import type { AlarmChange } from "../../alarms/change.ts";

/**
 * What a phone is told about a change: that an alarm was raised, that it is over, or nothing.
 * Answers, and alarms that are held, are for the page. A caution asks for no answer: it is there as
 * soon as it is `acknowledged`.
 */
export function toldAs(change: AlarmChange): "raised" | "returned" | null {
  const { from, to, hold, priority } = change;
  if (hold !== "none") return null;
  if (to === "unacknowledged") return "raised";
  if (priority === "caution" && from === "normal" && to === "acknowledged") return "raised";
  const wasActive = from === "unacknowledged" || from === "acknowledged";
  return wasActive && to !== "acknowledged" ? "returned" : null;
}
