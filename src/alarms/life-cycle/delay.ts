import type { Micros } from "../../ground/time.ts";

/**
 * A delay that wants something to be true without a break (contract §5): an on-delay, an off-delay
 * or `held`. While the answer is unknown it stands still for one old age and is then given up.
 */
export type Delay =
  | { readonly kind: "idle" }
  | { readonly kind: "running"; readonly due: Micros }
  | { readonly kind: "frozen"; readonly left: Micros; readonly resets: Micros }
  | { readonly kind: "over" };

export const IDLE: Delay = { kind: "idle" };
export const OVER: Delay = { kind: "over" };

/** Whether what the delay waits for is true; `lost`: unknown, because a signal is not heard. */
export type Wanted = "no" | "yes" | "unknown" | "lost";

export interface DelayTimes {
  readonly length: Micros;
  /** From when the length counts; later than now for nothing but a clock that went wrong. */
  readonly from: Micros;
  /** How long an unknown answer is waited for. */
  readonly oldAge: Micros;
}

/** The delay after what it waits for was judged at `now`; "over" once it has been true long enough. */
export function stepDelay(delay: Delay, wanted: Wanted, now: Micros, times: DelayTimes): Delay {
  if (wanted === "yes") return afterYes(delay, now, times);
  return wanted === "unknown" ? afterUnknown(delay, now, times) : IDLE;
}

/** When the delay itself next acts: it ends, or it is given up. Infinity for never. */
export function dueOf(delay: Delay): Micros {
  if (delay.kind === "running") return delay.due;
  return delay.kind === "frozen" ? delay.resets : Infinity;
}

function running(due: Micros, now: Micros): Delay {
  return due <= now ? OVER : { kind: "running", due };
}

function afterYes(delay: Delay, now: Micros, times: DelayTimes): Delay {
  switch (delay.kind) {
    case "idle":
      return running(times.from + times.length, now);
    case "frozen":
      return running(now + delay.left, now);
    case "running":
      return delay.due <= now ? OVER : delay;
    case "over":
      return OVER;
  }
}

function afterUnknown(delay: Delay, now: Micros, times: DelayTimes): Delay {
  switch (delay.kind) {
    case "idle":
      return IDLE;
    case "running":
      return { kind: "frozen", left: delay.due - now, resets: now + times.oldAge };
    case "over":
      return { kind: "frozen", left: 0, resets: now + times.oldAge };
    case "frozen":
      return delay.resets <= now ? IDLE : delay;
  }
}
