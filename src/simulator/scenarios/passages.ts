import { type Micros, SECOND } from "../../ground/time.ts";
import type { Timed } from "../happening.ts";
import type { Side } from "../names.ts";
import type { StartState } from "../start-state.ts";

/** Stretches that many stories share. */

export const BOTH: readonly Side[] = ["port", "starboard"];

/** Somebody is aboard and about to leave; the engines are still warm from this morning. */
export const ABOUT_TO_LEAVE: StartState = {
  engines: 70,
  gateways: "talking",
  shorePower: false,
  house: 0.78,
  battery: 0.97,
  aftBilge: 5,
};

/** Nobody is aboard, and the engines' gateways are off with their keys. */
export const AT_THE_MOORING: StartState = {
  engines: 16,
  gateways: "dark",
  shorePower: true,
  house: 0.985,
  battery: 0.98,
  aftBilge: 5,
};

/** Keys on, then one engine after the other; both idle seven seconds later. */
export function startEngines(at: Micros, engines: readonly Side[] = BOTH): Timed[] {
  return engines.flatMap((engine, place): Timed[] => [
    { at, do: "key-on", engine },
    { at: at + (2 + 3 * place) * SECOND, do: "start", engine },
  ]);
}

/** Both engines in gear, on a course. */
export function getUnderWay(at: Micros, speed: number, course = 200): Timed[] {
  return [
    { at, do: "steer", course },
    ...BOTH.map((engine): Timed => ({ at, do: "gear", engine, engaged: true })),
    ...throttle(at + 2 * SECOND, speed),
  ];
}

/** 1/min. */
export function throttle(at: Micros, speed: number, engines: readonly Side[] = BOTH): Timed[] {
  return engines.map((engine) => ({ at, do: "throttle", engine, speed }));
}

/** Stretches of a story woven into one, in order of time; equal times in the order given. */
export function woven(...stretches: readonly (readonly Timed[])[]): Timed[] {
  return stretches.flat().sort((a, b) => a.at - b.at);
}
