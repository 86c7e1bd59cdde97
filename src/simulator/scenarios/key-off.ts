import { SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";

/**
 * Three ways in which an engine falls silent: its gateway dies with the key at idle, its gateway
 * goes on with "not available", and a gateway's plug comes out at 2,000 rpm. Only the last is
 * worth a warning.
 */
export const KEY_OFF: Scenario = {
  name: "key-off",
  story: "Keys are turned off in both ways; later a gateway falls silent at 2,000 rpm.",
  lasting: 240 * SECOND,
  again: false,
  start: {
    engines: 70,
    gateways: "dark",
    shorePower: false,
    house: 0.7,
    battery: 0.95,
    aftBilge: 6,
  },
  happenings: [
    { at: 1 * SECOND, do: "key-on", engine: "port" },
    { at: 1 * SECOND, do: "key-on", engine: "starboard" },
    { at: 4 * SECOND, do: "start", engine: "port" },
    { at: 8 * SECOND, do: "start", engine: "starboard" },
    { at: 40 * SECOND, do: "key-off", engine: "port", gateway: "dies" },
    { at: 60 * SECOND, do: "key-off", engine: "starboard", gateway: "not-available" },
    { at: 95 * SECOND, do: "key-on", engine: "port" },
    { at: 95 * SECOND, do: "key-on", engine: "starboard" },
    { at: 99 * SECOND, do: "start", engine: "port" },
    { at: 103 * SECOND, do: "start", engine: "starboard" },
    { at: 112 * SECOND, do: "steer", course: 200 },
    { at: 112 * SECOND, do: "gear", engine: "port", engaged: true },
    { at: 112 * SECOND, do: "gear", engine: "starboard", engaged: true },
    { at: 115 * SECOND, do: "throttle", engine: "port", speed: 2000 },
    { at: 115 * SECOND, do: "throttle", engine: "starboard", speed: 2000 },
    {
      at: 150 * SECOND,
      do: "fault",
      fault: { kind: "device-gone", device: "starboard-gateway" },
    },
    {
      at: 185 * SECOND,
      do: "repair",
      fault: { kind: "device-gone", device: "starboard-gateway" },
    },
    { at: 205 * SECOND, do: "throttle", engine: "port", speed: 700 },
    { at: 205 * SECOND, do: "throttle", engine: "starboard", speed: 700 },
  ],
};
