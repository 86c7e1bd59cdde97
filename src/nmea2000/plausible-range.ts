import type { Field } from "./row.ts";

/** Room for the last bit of a quotient of decimal numbers. */
const QUOTIENT_NOISE = 1e-9;

/** The lowest raw value that is a possible one. */
export function plausibleFrom(field: Field): number {
  if (field.kind !== "number" || field.plausible?.least === undefined) return -Infinity;
  const raw = (field.plausible.least - (field.offset ?? 0)) / field.resolution;
  return Math.ceil(raw - QUOTIENT_NOISE * Math.max(1, Math.abs(raw)));
}

/** The lowest raw value above all possible ones. */
export function implausibleFrom(field: Field): number {
  if (field.kind !== "number" || field.plausible?.most === undefined) return Infinity;
  const raw = (field.plausible.most - (field.offset ?? 0)) / field.resolution;
  return Math.floor(raw + QUOTIENT_NOISE * Math.max(1, Math.abs(raw))) + 1;
}
