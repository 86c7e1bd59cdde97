import type { UnitCode } from "./codes.ts";
import { convert, convertDifference, type Scale, scaleOf } from "./scale.ts";
import { ownersUnitFor, type OwnersUnits } from "./units.ts";

/** A value as an owner reads it, the number apart from its unit. */
export interface Reading {
  /** `1,800`; empty where there is none. */
  readonly number: string;
  /** `rpm`; empty for plain numbers. */
  readonly unit: string;
}

/**
 * A value of a signal in the owner's unit. `decimals` overrides what is usual for that unit
 * (positions want five).
 */
export function reading(
  value: number | null,
  code: UnitCode,
  owners: OwnersUnits,
  decimals?: number,
): Reading {
  return readingWith(convert, value, code, owners, decimals);
}

/** `18 psi`, `1,800 rpm`, `50°`; `no reading` where there is no value. */
export function say(
  value: number | null,
  code: UnitCode,
  owners: OwnersUnits,
  decimals?: number,
): string {
  return join(reading(value, code, owners, decimals));
}

/** A difference between two values of a signal: `7 psi`, `5 °F`. */
export function sayDifference(
  value: number | null,
  code: UnitCode,
  owners: OwnersUnits,
  decimals?: number,
): string {
  return join(readingOfDifference(value, code, owners, decimals));
}

/** The same, the number apart from its unit. */
export function readingOfDifference(
  value: number | null,
  code: UnitCode,
  owners: OwnersUnits,
  decimals?: number,
): Reading {
  return readingWith(convertDifference, value, code, owners, decimals);
}

function readingWith(
  change: (value: number, from: Scale, to: Scale) => number,
  value: number | null,
  code: UnitCode,
  owners: OwnersUnits,
  decimals: number | undefined,
): Reading {
  if (value === null || !Number.isFinite(value)) return { number: "", unit: "" };
  const unit = ownersUnitFor(code, owners);
  if (unit === undefined || code === "") return { number: grouped(value, decimals), unit: "" };
  const changed = change(value, scaleOf(code), unit);
  return { number: grouped(changed, decimals ?? unit.decimals), unit: unit.name };
}

function join({ number, unit }: Reading): string {
  if (number === "") return "no reading";
  if (unit === "" || unit.startsWith("°") && unit !== "°C" && unit !== "°F") return number + unit;
  return `${number} ${unit}`;
}

/** Thousands in groups of three, the same on every machine. */
function grouped(value: number, decimals: number | undefined): string {
  const [whole, fraction] = (decimals === undefined ? String(value) : value.toFixed(decimals))
    .split(".");
  const digits = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  const text = fraction === undefined ? digits : `${digits}.${fraction}`;
  return /^-[0.,]*$/.test(text) ? text.slice(1) : text;
}
