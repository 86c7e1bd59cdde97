import { MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Scenario, Timed } from "../happening.ts";
import { ABOUT_TO_LEAVE } from "./passages.ts";

/** Apart by no multiple of any message's period: each start is heard at other instants. */
const EVERY = 40_370 * MILLISECOND;

/** Engine port started so often, and stopped again each time. */
function starts(count: number): Timed[] {
  return Array.from({ length: count }, (_, start): Timed[] => {
    const at = start * EVERY;
    return [
      { at, do: "key-on", engine: "port" },
      { at: at + 4 * SECOND, do: "start", engine: "port" },
      { at: at + 25 * SECOND, do: "stop", engine: "port" },
    ];
  }).flat();
}

export const MANY_STARTS: Scenario = {
  name: "many-starts",
  story: "One engine is started forty times on a battery that is well.",
  lasting: 40 * EVERY,
  again: false,
  start: { ...ABOUT_TO_LEAVE, engines: 12 },
  happenings: starts(40),
};

/** From the eleventh start on the battery has more resistance with each: a season in half an hour. */
function weakening(from: number, to: number): Timed[] {
  return Array.from({ length: to - from }, (_, start): Timed => ({
    at: (from + start) * EVERY + SECOND,
    do: "fault",
    fault: { kind: "start-battery-tired", times: 1 + 0.1 * (start + 1) },
  }));
}

export const STARTS_WEAKEN: Scenario = {
  name: "starts-weaken",
  story: "One engine is started thirty times, and from the eleventh on its battery grows weaker.",
  lasting: 30 * EVERY,
  again: false,
  start: { ...ABOUT_TO_LEAVE, engines: 12 },
  happenings: [...starts(30), ...weakening(10, 30)].toSorted((a, b) => a.at - b.at),
};
