import type { UnitCode } from "./codes.ts";

/** What a number can be a measure of. These are also the keys of `units:` in a boat file. */
export type Dimension =
  | "pressure"
  | "temperature"
  | "voltage"
  | "current"
  | "charge"
  | "power"
  | "rotation"
  | "flow"
  | "volume"
  | "share"
  | "length"
  | "speed"
  | "angle"
  | "turn"
  | "time"
  | "frequency"
  | "count";

interface DimensionFacts {
  /** The signal unit to which scales of this dimension lead. */
  readonly base: Exclude<UnitCode, "">;
  /** For a sentence: "a pressure". */
  readonly words: string;
  /** How a person may write one. */
  readonly example: string;
}

export const DIMENSIONS: Readonly<Record<Dimension, DimensionFacts>> = {
  pressure: { base: "Pa", words: "a pressure", example: "10 psi" },
  temperature: { base: "Cel", words: "a temperature", example: "95 °C" },
  voltage: { base: "V", words: "a voltage", example: "12.2 V" },
  current: { base: "A", words: "a current", example: "8 A" },
  charge: { base: "A.h", words: "a charge", example: "400 Ah" },
  power: { base: "W", words: "a power", example: "1500 W" },
  rotation: { base: "1/min", words: "a speed of rotation", example: "2600 rpm" },
  flow: { base: "L/h", words: "a flow", example: "12 L/h" },
  volume: { base: "L", words: "a volume", example: "400 L" },
  share: { base: "%", words: "a percentage", example: "20 %" },
  length: { base: "m", words: "a length", example: "40 m" },
  speed: { base: "m/s", words: "a speed", example: "6 kn" },
  angle: { base: "deg", words: "an angle", example: "50.4°" },
  turn: { base: "deg/s", words: "a rate of turn", example: "3 °/s" },
  time: { base: "s", words: "a time", example: "10 min" },
  frequency: { base: "1/h", words: "a number in each hour", example: "4 per hour" },
  count: { base: "1", words: "a plain number", example: "3" },
};

export function isDimension(name: string): name is Dimension {
  return Object.hasOwn(DIMENSIONS, name);
}
