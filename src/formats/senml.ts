import { z } from "zod";
import type { UnitCode } from "../units/codes.ts";

z.config({ jitless: true });

/** One record as it is written, RFC 8428 §4; labels that nobody knows are passed over (§4.4). */
const senmlRecord = z.object({
  bn: z.string().optional(),
  bt: z.number().optional(),
  bu: z.string().optional(),
  bv: z.number().optional(),
  bs: z.number().optional(),
  bver: z.number().optional(),
  n: z.string().optional(),
  u: z.string().optional(),
  v: z.number().optional(),
  vs: z.string().optional(),
  vb: z.boolean().optional(),
  vd: z.string().optional(),
  s: z.number().optional(),
  t: z.number().optional(),
  ut: z.number().optional(),
});
export const senmlPack = z.array(senmlRecord);
export type SenmlRecord = z.output<typeof senmlRecord>;

/** A record that stands by itself: whole name, time in seconds since the epoch. */
export type ResolvedRecord =
  & Omit<SenmlRecord, "bn" | "bt" | "bu" | "bv" | "bs" | "n" | "t">
  & { readonly n: string; readonly t: number };

/** Times below count from now (RFC 8428 §4.5.3). */
const RELATIVE_BELOW = 2 ** 28;
const USUAL_VERSION = 10;

/**
 * The records with what their base fields say put into each (RFC 8428 §4.6). A base field counts
 * from its record on, until another takes its place.
 * @param now seconds since the epoch
 */
export function resolve(pack: readonly SenmlRecord[], now: number): ResolvedRecord[] {
  let base: SenmlRecord = {};
  const resolved: ResolvedRecord[] = [];
  for (const record of pack) {
    const { bn, bt, bu, bv, bs, bver, n, u, v, s, t, ...rest } = record;
    base = { ...base, ...given({ bn, bt, bu, bv, bs, bver }) };
    const time = (base.bt ?? 0) + (t ?? 0);
    resolved.push({
      ...given({
        bver: base.bver === USUAL_VERSION ? undefined : base.bver,
        u: u ?? base.bu,
        v: v === undefined ? base.bv : v + (base.bv ?? 0),
        s: s === undefined ? base.bs : s + (base.bs ?? 0),
      }),
      ...rest,
      n: (base.bn ?? "") + (n ?? ""),
      t: time < RELATIVE_BELOW ? now + time : time,
    });
  }
  return resolved;
}

/** How a signal's unit is said in SenML: value × factor in `unit`. */
export interface SenmlUnit {
  /** A symbol of RFC 8428 §12.1; absent where it has none. */
  readonly unit?: string;
  readonly factor: number;
  /** What the name gains where no symbol can say the unit. */
  readonly suffix?: string;
}

const RADIAN = Math.PI / 180;

/** Units that are not registered, or "not to be produced", are said in those that are. */
const UNITS: Readonly<Record<UnitCode, SenmlUnit>> = {
  "Pa": { unit: "Pa", factor: 1 },
  "Cel": { unit: "Cel", factor: 1 },
  "V": { unit: "V", factor: 1 },
  "A": { unit: "A", factor: 1 },
  "W": { unit: "W", factor: 1 },
  "1/min": { unit: "1/s", factor: 1 / 60 },
  "1/h": { unit: "1/s", factor: 1 / 3600 },
  "Hz": { unit: "Hz", factor: 1 },
  "L/h": { unit: "m3/s", factor: 1e-3 / 3600 },
  "L": { unit: "m3", factor: 1e-3 },
  "h": { unit: "s", factor: 3600 },
  "min": { unit: "s", factor: 60 },
  "s": { unit: "s", factor: 1 },
  "%": { unit: "/", factor: 0.01 },
  "m": { unit: "m", factor: 1 },
  "m/s": { unit: "m/s", factor: 1 },
  "deg": { unit: "rad", factor: RADIAN },
  "deg/s": { factor: RADIAN, suffix: "-rad-per-s" },
  "A.h": { unit: "C", factor: 3600 },
  "1": { factor: 1 },
  "": { factor: 1 },
};

/** @param name the signal's: latitude and longitude have units of their own */
export function senmlUnit(unit: UnitCode, name: string): SenmlUnit {
  if (name === "position/latitude") return { unit: "lat", factor: 1 };
  if (name === "position/longitude") return { unit: "lon", factor: 1 };
  return UNITS[unit];
}

function given<T extends object>(fields: T): Partial<T> {
  const found: Partial<T> = { ...fields };
  for (const key in found) if (found[key] === undefined) delete found[key];
  return found;
}
