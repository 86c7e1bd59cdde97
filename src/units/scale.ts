import type { UnitCode, WireUnit } from "./codes.ts";
import { type Dimension, DIMENSIONS } from "./dimension.ts";

/** How a unit leads to its dimension's base: base = (value − zero) × factor. */
export interface Scale {
  readonly dimension: Dimension;
  readonly factor: number;
  /** What the unit shows where the base shows 0; only temperatures have one. */
  readonly zero?: number;
}

/** The scales of signals and of the wire. Every factor is exact by definition (BIPM, SI brochure). */
const CODE_SCALES: Readonly<Record<Exclude<UnitCode, ""> | WireUnit, Scale>> = {
  "Pa": { dimension: "pressure", factor: 1 },
  "Cel": { dimension: "temperature", factor: 1 },
  "K": { dimension: "temperature", factor: 1, zero: 273.15 },
  "V": { dimension: "voltage", factor: 1 },
  "A": { dimension: "current", factor: 1 },
  "A.h": { dimension: "charge", factor: 1 },
  "W": { dimension: "power", factor: 1 },
  "V.A": { dimension: "power", factor: 1 },
  "1/min": { dimension: "rotation", factor: 1 },
  "L/h": { dimension: "flow", factor: 1 },
  "L": { dimension: "volume", factor: 1 },
  "%": { dimension: "share", factor: 1 },
  "m": { dimension: "length", factor: 1 },
  "m/s": { dimension: "speed", factor: 1 },
  "deg": { dimension: "angle", factor: 1 },
  "rad": { dimension: "angle", factor: 180 / Math.PI },
  "deg/s": { dimension: "turn", factor: 1 },
  "rad/s": { dimension: "turn", factor: 180 / Math.PI },
  "s": { dimension: "time", factor: 1 },
  "min": { dimension: "time", factor: 60 },
  "h": { dimension: "time", factor: 3600 },
  "d": { dimension: "time", factor: 86_400 },
  "1/h": { dimension: "frequency", factor: 1 },
  "Hz": { dimension: "frequency", factor: 3600 },
  "1": { dimension: "count", factor: 1 },
};

export function scaleOf(code: Exclude<UnitCode, ""> | WireUnit): Scale {
  return CODE_SCALES[code];
}

/** The scale of the unit to which all others of a dimension lead. */
export function baseScale(dimension: Dimension): Scale {
  return CODE_SCALES[DIMENSIONS[dimension].base];
}

/** A straight line: to = (from − zero) × factor. What hot code keeps instead of calling `convert`. */
export interface Conversion {
  readonly factor: number;
  readonly zero: number;
}

/**
 * The line from one scale to another of the same dimension.
 * @throws {TypeError} for different dimensions: callers compare dimensions first.
 */
export function conversion(from: Scale, to: Scale): Conversion {
  if (from.dimension !== to.dimension) {
    throw new TypeError(`no way from ${from.dimension} to ${to.dimension}`);
  }
  const factor = from.factor / to.factor;
  return { factor, zero: (from.zero ?? 0) - (to.zero ?? 0) / factor };
}

/** @throws {TypeError} for different dimensions. */
export function convert(value: number, from: Scale, to: Scale): number {
  const { factor, zero } = conversion(from, to);
  return (value - zero) * factor;
}

/**
 * Converts a difference between two values (a deadband, a rise): 5 °F is 2.78 K.
 * @throws {TypeError} for different dimensions.
 */
export function convertDifference(value: number, from: Scale, to: Scale): number {
  return value * conversion(from, to).factor;
}

/** The line from the unit on the wire to the signal's. @throws {TypeError} for different dimensions. */
export function wireConversion(from: WireUnit, to: Exclude<UnitCode, "">): Conversion {
  return conversion(CODE_SCALES[from], CODE_SCALES[to]);
}
