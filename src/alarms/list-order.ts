import type { AlarmStatus } from "./change.ts";
import { compare } from "./compile/unfold.ts";
import { PRIORITIES } from "./words.ts";

/**
 * The order of a list of alarms: emergency alarms first; then what wants an answer and is still
 * present, what wants one and is over, what was answered and is still present; alarms before
 * warnings in each; cautions after all of these, and what is normal last. The newest comes first
 * among equals.
 */
export function listOrder(a: AlarmStatus, b: AlarmStatus): number {
  return rank(a) - rank(b) ||
    PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority) ||
    stateRank(a) - stateRank(b) ||
    (b.raised ?? 0) - (a.raised ?? 0) ||
    compare(a.tag, b.tag) ||
    compare(a.subject, b.subject);
}

function rank(status: AlarmStatus): number {
  if (status.state === "normal") return 5;
  if (status.priority === "emergency-alarm") return 0;
  if (status.priority === "caution") return 4;
  return 1 + stateRank(status);
}

function stateRank({ state }: AlarmStatus): number {
  switch (state) {
    case "unacknowledged":
    case "latched-unacknowledged":
      return 0;
    case "returned-unacknowledged":
      return 1;
    default:
      return 2;
  }
}
