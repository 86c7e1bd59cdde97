import type { AlarmChange } from "./change.ts";
import type { AlarmStateName } from "./words.ts";

type Move = Pick<AlarmChange, "from" | "to" | "hold" | "by">;

/** Whether the condition is there in a state. */
export function isStanding(state: AlarmStateName): boolean {
  return state === "unacknowledged" || state === "acknowledged";
}

/** Whether the condition is there with a change and was not before. */
export function isRaising({ from, to }: Pick<Move, "from" | "to">): boolean {
  return isStanding(to) && !isStanding(from);
}

/** What a change did, in a word or two: `raised`, `over, not yet answered`, `shelved`. */
export function moveWords({ from, to, hold, by }: Move): string {
  if (isRaising({ from, to })) return "raised";
  if (from === to && hold !== "none") return HOLD_WORDS[hold];
  // Nobody answered for too long, or it was put aside and is there: it asks anew.
  if (to === "unacknowledged") return by === "" ? "asks again" : "put back";
  if (from === to) return by === "" ? "no longer put aside" : "put back";
  if (by === "") return OVER_WORDS[to] ?? "over";
  return from === "latched-acknowledged" ? "reset" : "answered";
}

const HOLD_WORDS: Readonly<Record<Exclude<AlarmChange["hold"], "none">, string>> = {
  "shelved": "shelved",
  "out-of-service": "taken out of service",
  "suppressed-by-design": "held back by its rule",
};

const OVER_WORDS: Readonly<Partial<Record<AlarmStateName, string>>> = {
  "returned-unacknowledged": "over, not yet answered",
  "latched-unacknowledged": "over, held until answered and reset",
  "latched-acknowledged": "over, held until reset",
};
