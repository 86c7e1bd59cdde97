import type { AlarmChange } from "../../alarms/change.ts";
import { isoTime } from "../../ground/time.ts";

/**
 * One change of an alarm as a line for a person:
 * `2026-06-14 10:01:05 UTC  ALARM: Low oil pressure under load, port. Port oil pressure 21 psi …`
 */
export function changeWords(change: AlarmChange, title: string): string {
  const time = isoTime(change.time, 3).slice(0, 19).replace("T", " ");
  const subject = change.subject === "boat" ? "" : `, ${change.subject}`;
  return `${time} UTC  ${moveWords(change)}: ${title}${subject}. ${change.why}`;
}

/** What rings is in capitals, as on a phone. */
function moveWords({ to, priority, by }: AlarmChange): string {
  switch (to) {
    case "unacknowledged":
      return priority.replace("-", " ").toUpperCase();
    case "acknowledged":
      return by === "" ? `New ${priority}` : `Answered by ${by}`;
    case "returned-unacknowledged":
      return "Over, not yet answered";
    default:
      return "Over";
  }
}
