import type { AlarmChange, AlarmStatus } from "../../../alarms/change.ts";
import { subjectInQuestion } from "../../../alarms/compile/not-watched.ts";
import type { Priority } from "../../../alarms/words.ts";

export const PRIORITY_WORDS: Readonly<Record<Priority, string>> = {
  "emergency-alarm": "EMERGENCY ALARM",
  "alarm": "ALARM",
  "warning": "WARNING",
  "caution": "CAUTION",
};

/**
 * `port oil pressure 11 psi at 1,800 rpm, limit 18 psi`
 * @param status the alarm as it stands; left out, or about a later raising, the change's own
 *   explanation is told
 */
export function factWords(change: AlarmChange, status: AlarmStatus | undefined): string {
  const isSame = status?.occurrence === change.occurrence && status.message !== "";
  return isSame ? withoutStop(status.message) : withoutStop(change.why);
}

/** `low oil pressure under load, port`; without its status an alarm is called by its signal. */
export function titleWords(
  { signal, subject }: AlarmChange,
  status: AlarmStatus | undefined,
): string {
  if (status === undefined) {
    return signal === "" ? "an alarm whose rule is gone" : signal.replaceAll(/[/-]/g, " ");
  }
  const title = `${status.title.charAt(0).toLowerCase()}${status.title.slice(1)}`;
  const about = subjectInQuestion(subject);
  return about === "boat" ? title : `${title}, ${about.replaceAll("-", " ")}`;
}

/** Each with one stop at its end; empty ones left out. */
export function sentences(...parts: string[]): string {
  return parts.filter((part) => part !== "").map((part) =>
    part.endsWith("…") ? part : `${withoutStop(part)}.`
  ).join(" ");
}

function withoutStop(sentence: string): string {
  return sentence.endsWith(".") ? sentence.slice(0, -1) : sentence;
}
