import type { AlarmChange, AlarmStatus } from "../../alarms/change.ts";
import type { Priority } from "../../alarms/words.ts";
import type { Micros } from "../../ground/time.ts";
import { clockWords } from "./clock-words.ts";

export interface PhoneWording {
  /** `Hazel Comfort` */
  readonly boat: string;
  /** IANA name of the owner's time zone. */
  readonly timeZone: string;
  /** Where the person is, as far as anyone knows: the two are told to do different things. */
  readonly whereabouts: "aboard" | "ashore";
  /** Wall time; a change of another day is told with its date. */
  readonly now: Micros;
}

const PRIORITY_WORDS: Readonly<Record<Priority, string>> = {
  "emergency-alarm": "EMERGENCY ALARM",
  "alarm": "ALARM",
  "warning": "WARNING",
  "caution": "CAUTION",
};

/**
 * `Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. Bring
 * that engine to idle …`
 *
 * @param status the alarm as it stands; left out, or about a later raising, the change's own
 *   explanation is told
 */
export function raisedWords(
  change: AlarmChange,
  status: AlarmStatus | undefined,
  { boat, timeZone, whereabouts, now }: PhoneWording,
): string {
  const since = clockWords(change.time, now, timeZone);
  const head = `${boat}, ${PRIORITY_WORDS[change.priority]}`;
  const isSame = status?.occurrence === change.occurrence && status.message !== "";
  const what = isSame ? status.message : withoutStop(change.why);
  return sentences(`${head}: ${what}, since ${since}`, status?.response[whereabouts] ?? "");
}

/**
 * `Hazel Comfort, ALARM over at 14:36: low oil pressure under load, port. Port oil pressure 25 psi
 * was back inside its limit of 18 psi for 10 s.`
 */
export function returnedWords(
  change: AlarmChange,
  status: AlarmStatus | undefined,
  { boat, timeZone, now }: PhoneWording,
): string {
  const head = `${boat}, ${PRIORITY_WORDS[change.priority]} over`;
  const time = clockWords(change.time, now, timeZone);
  const answered = change.to === "returned-unacknowledged" ? "It is not answered yet." : "";
  return sentences(`${head} at ${time}: ${alarmWords(change, status)}`, change.why, answered);
}

/** A boat's name as it stands on her stern: `hazel-comfort` is Hazel Comfort. */
export function boatWords(name: string): string {
  return name.split("-").map((word) => word.charAt(0).toUpperCase() + word.slice(1)).join(" ");
}

/** `low oil pressure under load, port`; without its status an alarm is called by its signal. */
function alarmWords({ signal, subject }: AlarmChange, status: AlarmStatus | undefined): string {
  if (status === undefined) return signal.replaceAll(/[/-]/g, " ");
  const title = `${status.title.charAt(0).toLowerCase()}${status.title.slice(1)}`;
  return subject === "boat" ? title : `${title}, ${subject.replaceAll("-", " ")}`;
}

function sentences(...parts: string[]): string {
  return parts.filter((part) => part !== "").map((part) => `${withoutStop(part)}.`).join(" ");
}

function withoutStop(sentence: string): string {
  return sentence.endsWith(".") ? sentence.slice(0, -1) : sentence;
}
