import { sayDuration } from "../units/duration.ts";
import type { Answer } from "./answer.ts";
import type { AlarmLife, AlarmState } from "./life-cycle/alarm-life.ts";
import type { Rule } from "./rules/rule.ts";

/** Why an answer would change nothing, as a sentence; empty where it does. */
export function whyRefused(
  answer: Answer,
  { state, hold }: AlarmLife,
  rule: Rule,
  isAfar: boolean,
): string {
  const { occurrence } = answer;
  if (occurrence !== state.occurrence) return otherRaising(answer, state);
  switch (answer.kind) {
    case "acknowledge":
      return notAcknowledged(state, rule);
    case "reset":
      return notReset(state);
    case "shelve":
      if (hold.kind === "out-of-service") return "This alarm is out of service already.";
      return notHeld(answer.length, rule.longestShelving, "shelved", rule, isAfar);
    case "out-of-service":
      return notHeld(answer.length, Infinity, "taken out of service", rule, isAfar);
    case "unshelve":
      return hold.kind === "shelved" ? "" : "This alarm is not shelved.";
    case "return-to-service":
      return hold.kind === "out-of-service" ? "" : "This alarm is not out of service.";
  }
}

/** An answer that comes late is not lost: what it says is said here, and the newer raising waits on. */
function otherRaising({ kind, occurrence, who }: Answer, state: AlarmState): string {
  if (state.occurrence === 0) return "This alarm has not been raised yet.";
  // Only a program can be ahead of the boat, and a program wants the numbers.
  if (occurrence > state.occurrence) {
    return `This alarm has not been raised so often: found occurrence ${occurrence}, the latest is ` +
      `${state.occurrence}.`;
  }
  if (occurrence === 0) return "It has been raised meanwhile.";
  const newer = "It has been raised again since";
  return kind === "acknowledge"
    ? `That was an earlier time; it is over, and ${who} has answered it now. ${newer}, and that is ` +
      `untouched.`
    : `That was an earlier time, and it is over. ${newer}.`;
}

function notAcknowledged(state: AlarmState, { priority }: Rule): string {
  if (state.occurrence === 0) return "This alarm has not been raised yet.";
  if (priority === "caution") return "A caution asks for no answer.";
  switch (state.name) {
    case "acknowledged":
    case "latched-acknowledged":
      return "It has been answered already.";
    case "normal":
      return "It is over and was answered.";
    default:
      return "";
  }
}

function notReset(state: AlarmState): string {
  switch (state.name) {
    case "latched-acknowledged":
      return "";
    case "latched-unacknowledged":
      return "It must be answered before it can be reset.";
    case "unacknowledged":
    case "acknowledged":
      return "It is still present: it can be reset when its condition has gone.";
    default:
      return "There is nothing to reset.";
  }
}

/** An emergency alarm is never put aside by someone who is not there. */
function notHeld(
  length: number,
  longest: number,
  what: string,
  { priority }: Rule,
  isAfar: boolean,
): string {
  if (isAfar && priority === "emergency-alarm") {
    return `An emergency alarm can be ${what} only aboard.`;
  }
  if (length <= 0) return `It can only be ${what} for some time.`;
  return length > longest ? `It can be ${what} for ${sayDuration(longest)} at most.` : "";
}
