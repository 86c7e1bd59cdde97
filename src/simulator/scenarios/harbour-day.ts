import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";

/**
 * Out, a scare, home on one engine, a charger that gives up, and a trial run of the repaired
 * engine. The port oil pressure is below its limit for good a little over a minute after the start.
 */
export const HARBOUR_DAY: Scenario = {
  name: "harbour-day",
  story: "Port oil pressure falls under load on the way out; later the shore charger gives up.",
  lasting: 36 * MINUTE,
  again: true,
  start: {
    engines: 62,
    gateways: "talking",
    shorePower: true,
    house: 0.78,
    battery: 0.97,
    aftBilge: 9,
  },
  happenings: [
    { at: 1 * SECOND, do: "key-on", engine: "port" },
    { at: 1 * SECOND, do: "key-on", engine: "starboard" },
    { at: 4 * SECOND, do: "start", engine: "port" },
    { at: 8 * SECOND, do: "start", engine: "starboard" },
    { at: 17 * SECOND, do: "shore-power", on: false },
    { at: 22 * SECOND, do: "steer", course: 200 },
    { at: 22 * SECOND, do: "gear", engine: "port", engaged: true },
    { at: 22 * SECOND, do: "gear", engine: "starboard", engaged: true },
    { at: 24 * SECOND, do: "throttle", engine: "port", speed: 1100 },
    { at: 24 * SECOND, do: "throttle", engine: "starboard", speed: 1100 },
    { at: 36 * SECOND, do: "throttle", engine: "port", speed: 2200 },
    { at: 36 * SECOND, do: "throttle", engine: "starboard", speed: 2200 },
    { at: 48 * SECOND, do: "fault", fault: { kind: "oil-strainer-clogs", engine: "port" } },
    // The alarm; the skipper reads it, looks at the gauge and does what it says.
    { at: 95 * SECOND, do: "throttle", engine: "port", speed: 700 },
    { at: 97 * SECOND, do: "throttle", engine: "starboard", speed: 1600 },
    { at: 101 * SECOND, do: "gear", engine: "port", engaged: false },
    { at: 150 * SECOND, do: "stop", engine: "port" },
    { at: 4 * MINUTE, do: "steer-for-mooring" },
    { at: 4 * MINUTE, do: "throttle", engine: "starboard", speed: 1500 },
    { at: 500 * SECOND, do: "throttle", engine: "starboard", speed: 800 },
    { at: 610 * SECOND, do: "gear", engine: "starboard", engaged: false },
    { at: 610 * SECOND, do: "throttle", engine: "starboard", speed: 700 },
    { at: 610 * SECOND, do: "make-fast" },
    { at: 11 * MINUTE, do: "stop", engine: "starboard" },
    { at: 672 * SECOND, do: "key-off", engine: "starboard", gateway: "reads-zero" },
    { at: 678 * SECOND, do: "key-off", engine: "port", gateway: "reads-zero" },
    { at: 12 * MINUTE, do: "shore-power", on: true },
    { at: 15 * MINUTE, do: "fault", fault: { kind: "charger-fault" } },
    { at: 17 * MINUTE, do: "load", amperes: 45 },
    { at: 19 * MINUTE, do: "load", amperes: 0 },
    { at: 20 * MINUTE, do: "repair", fault: { kind: "charger-fault" } },
    { at: 24 * MINUTE, do: "repair", fault: { kind: "oil-strainer-clogs", engine: "port" } },
    { at: 25 * MINUTE, do: "key-on", engine: "port" },
    { at: 1506 * SECOND, do: "start", engine: "port" },
    { at: 27 * MINUTE, do: "throttle", engine: "port", speed: 1500 },
    { at: 29 * MINUTE, do: "throttle", engine: "port", speed: 700 },
    { at: 31 * MINUTE, do: "stop", engine: "port" },
    { at: 1872 * SECOND, do: "key-off", engine: "port", gateway: "reads-zero" },
  ],
};
