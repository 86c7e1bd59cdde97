import type { AlarmStatus } from "../../alarms/change.ts";
import { subjectInQuestion } from "../../alarms/compile/not-watched.ts";
import { type AlarmStateName, type Hold, PRIORITIES, type Priority } from "../../alarms/words.ts";
import { subjectWords } from "./names.ts";

export const PRIORITY_ON_SCREEN: Readonly<Record<Priority, string>> = {
  "emergency-alarm": "Emergency alarm",
  "alarm": "Alarm",
  "warning": "Warning",
  "caution": "Caution",
};

const STATE_ON_SCREEN: Readonly<Record<AlarmStateName, string>> = {
  "normal": "over",
  "unacknowledged": "not yet answered",
  "acknowledged": "answered",
  "returned-unacknowledged": "over, not yet answered",
  "latched-unacknowledged": "kept until reset, not yet answered",
  "latched-acknowledged": "answered, kept until reset",
};

const HOLD_ON_SCREEN: Readonly<Record<Hold, string>> = {
  "none": "",
  "shelved": "shelved",
  "suppressed-by-design": "not judged now, by its own rule",
  "out-of-service": "out of service",
};

/** `not yet answered`; a caution asks for no answer and reads `asks for no answer`. */
export function stateOnScreen({ state, hold, priority }: AlarmStatus): string {
  if (hold !== "none") return HOLD_ON_SCREEN[hold];
  if (priority === "caution" && state === "acknowledged") return "asks for no answer";
  return STATE_ON_SCREEN[state];
}

/** True where a person still has to say that they know. */
export function asksForAnswer({ state, hold, priority }: AlarmStatus): boolean {
  return hold === "none" && priority !== "caution" && state.endsWith("unacknowledged");
}

/** `port engine`: the group comes from the judged signal where that is about the same subject. */
export function aboutWords(signal: string, subject: string): string {
  const about = subjectInQuestion(subject);
  if (about === "boat" || about === "") return "";
  const [group, named] = signal.split("/");
  return subjectWords(named === about || about.includes("-") ? group : "", about).trim();
}

/** Shelved and out of service are a person's doing; what its own rule holds back is no news. */
export function isPutAside({ hold }: AlarmStatus): boolean {
  return hold === "shelved" || hold === "out-of-service";
}

/** Those that ask for an answer first, those put aside last; then by priority, then the newest. */
export function inOrderOfNeed(a: AlarmStatus, b: AlarmStatus): number {
  return Number(asksForAnswer(b)) - Number(asksForAnswer(a)) ||
    Number(isPutAside(a)) - Number(isPutAside(b)) ||
    PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority) ||
    (b.raised ?? 0) - (a.raised ?? 0);
}
