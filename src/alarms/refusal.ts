import type { AlarmState } from "./life-cycle/life-cycle.ts";
import type { Priority } from "./words.ts";

/** Why an answer changed nothing, as a sentence. */
export function whyRefused(state: AlarmState, occurrence: number, priority: Priority): string {
  if (state.occurrence === 0) return "This alarm has not been raised yet.";
  if (occurrence > state.occurrence) {
    return `There is no raising ${occurrence} yet; the latest is ${state.occurrence}.`;
  }
  if (occurrence < state.occurrence) {
    return `Raising ${occurrence} is over; it has been raised again as ${state.occurrence}.`;
  }
  if (priority === "caution") return "A caution asks for no answer.";
  return state.name === "acknowledged"
    ? `Raising ${occurrence} has been answered already.`
    : `Raising ${occurrence} is over and was answered.`;
}
