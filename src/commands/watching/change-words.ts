import type { AlarmChange } from "../../alarms/change.ts";
import { subjectInQuestion } from "../../alarms/compile/not-watched.ts";
import { moveWords } from "../../alarms/move-words.ts";
import { isoTime } from "../../ground/time.ts";

/**
 * One change of an alarm as a line for a person:
 * `2026-06-14 10:01:05 UTC  ALARM: Low oil pressure under load, port. Port oil pressure 21 psi …`
 */
export function changeWords(change: AlarmChange, title: string): string {
  const time = isoTime(change.time, 3).slice(0, 19).replace("T", " ");
  const about = subjectInQuestion(change.subject);
  const subject = about === "boat" ? "" : `, ${about}`;
  const head = headWords(change);
  // That somebody answered is said once, unless they gave a reason.
  const why = change.why === `${head}.` ? "" : ` ${change.why}`;
  return `${time} UTC  ${head}: ${title}${subject}.${why}`;
}

/** What rings is in capitals, as on a phone; what a person did is told with the reason. */
function headWords(change: AlarmChange): string {
  const { to, hold, priority, by } = change;
  if (to === "unacknowledged" && hold === "none") return priority.replace("-", " ").toUpperCase();
  const words = moveWords(change);
  if (words === "raised") return `New ${priority}`;
  if (words === "answered") return `Answered by ${by}`;
  return words.charAt(0).toUpperCase() + words.slice(1);
}
