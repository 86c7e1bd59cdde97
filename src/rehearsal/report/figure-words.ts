import type { Test } from "../../alarms/rules/test.ts";
import { sayDelay } from "../say-delay.ts";

/** What the line of an alarm's plot is: the signal itself, or the figure that its test makes of it. */
export function figureWords(test: Test, name: string): string {
  switch (test.kind) {
    case "not-heard":
      return `time since ${name} was heard`;
    case "deviation":
      return `how far ${name} and what it should agree with lie apart`;
    case "rate-of-change":
      return `by how much ${name} ${test.side === "rise" ? "rose" : "fell"} within ${
        sayDelay(test.within)
      }`;
    case "count":
      return test.usual === null
        ? `starts of ${name} within ${sayDelay(test.within)}`
        : `starts of ${name} as a multiple of the usual`;
    case "running-time":
      return test.within === null
        ? `running time of ${name}`
        : `running time of ${name} within ${sayDelay(test.within)}`;
    case "moved":
      return "distance of the boat from where she should lie";
    case "low":
    case "high":
      return test.setpoint.kind === "usual" ? `${name} against its usual` : name;
    default:
      return name;
  }
}
