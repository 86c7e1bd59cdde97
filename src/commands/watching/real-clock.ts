import type { Clock } from "../../ground/clock.ts";
import { MILLISECOND } from "../../ground/time.ts";

/** The machine's clocks: steady time counts from the start of the process, at the wall's offset then. */
export function realClock(): Clock {
  return {
    steady: () => Math.round((performance.timeOrigin + performance.now()) * MILLISECOND),
    wall: () => Date.now() * MILLISECOND,
  };
}
