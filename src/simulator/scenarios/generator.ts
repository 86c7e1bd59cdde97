import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const GENERATOR: Scenario = {
  name: "generator",
  story: "The generator starts, carries its load for five minutes, and stops.",
  lasting: 9 * MINUTE,
  again: false,
  aboard: { also: ["generator"] },
  start: AT_THE_MOORING,
  happenings: [
    { at: 20 * SECOND, do: "key-on", engine: "generator" },
    { at: 23 * SECOND, do: "start", engine: "generator" },
    { at: 60 * SECOND, do: "gear", engine: "generator", engaged: true },
    { at: 6 * MINUTE, do: "gear", engine: "generator", engaged: false },
    { at: 7 * MINUTE, do: "stop", engine: "generator" },
    { at: 440 * SECOND, do: "key-off", engine: "generator", gateway: "dies" },
  ],
};
