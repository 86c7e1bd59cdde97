import { type Micros, MILLISECOND, MINUTE } from "../ground/time.ts";
import type { Fault } from "./fault.ts";
import type { Random } from "./random.ts";
import { BOTH } from "./scenarios/passages.ts";

/** A fault that a random trip may have. */
export interface TripFault {
  /** When it can be felt: with engines running, under load, or at the mooring. */
  readonly when: "running" | "under-load" | "at-the-mooring";
  /** How long the story goes on after it began, at least. */
  readonly lasts: Micros;
  /** `size` from 0, the mildest, to 1, the worst. */
  draw(size: number, random: Random): Fault;
}

const side = (random: Random) => random.oneOf(BOTH);

/** By the name that `Truth` gives them. */
export const TRIP_FAULTS = {
  "oil-strainer-clogs": {
    when: "under-load",
    lasts: 3 * MINUTE,
    draw: (size, random) => ({
      kind: "oil-strainer-clogs",
      engine: side(random),
      leaves: 150_000 - 90_000 * size,
    }),
  },
  "oil-lost": {
    when: "under-load",
    lasts: 3 * MINUTE,
    draw: (_size, random) => ({ kind: "oil-lost", engine: side(random) }),
  },
  "bearings-worn": {
    when: "running",
    lasts: 8 * MINUTE,
    draw: (size, random) => ({
      kind: "bearings-worn",
      engine: side(random),
      keeps: 0.8 - 0.45 * size,
    }),
  },
  "coolant-blocked": {
    when: "under-load",
    lasts: 8 * MINUTE,
    draw: (size, random) => ({
      kind: "coolant-blocked",
      engine: side(random),
      open: 0.2 - 0.18 * size,
    }),
  },
  "alternator-dead": {
    when: "running",
    lasts: 6 * MINUTE,
    draw: (_size, random) => ({ kind: "alternator-dead", engine: side(random) }),
  },
  "alternator-unregulated": {
    when: "running",
    lasts: 3 * MINUTE,
    draw: (_size, random) => ({ kind: "alternator-unregulated", engine: side(random) }),
  },
  "house-opens": {
    when: "under-load",
    lasts: 3 * MINUTE,
    draw: () => ({ kind: "house-opens" }),
  },
  "charger-fault": {
    when: "at-the-mooring",
    lasts: 5 * MINUTE,
    draw: () => ({ kind: "charger-fault" }),
  },
  "charger-overcharges": {
    when: "at-the-mooring",
    lasts: 10 * MINUTE,
    draw: () => ({ kind: "charger-overcharges" }),
  },
  "shore-power-lost": {
    when: "at-the-mooring",
    lasts: 15 * MINUTE,
    draw: () => ({ kind: "shore-power-lost" }),
  },
  "bilge-leaks": {
    when: "at-the-mooring",
    lasts: 30 * MINUTE,
    draw: (size) => ({ kind: "bilge-leaks", bilge: "aft", inflow: 60 + 1000 * size ** 2 }),
  },
  "bilge-siphons": {
    when: "at-the-mooring",
    lasts: 40 * MINUTE,
    draw: () => ({ kind: "bilge-siphons", bilge: "aft" }),
  },
  "pump-choked": {
    when: "at-the-mooring",
    lasts: 40 * MINUTE,
    draw: () => ({ kind: "pump-choked", bilge: "aft" }),
  },
  "tank-leaks": {
    when: "at-the-mooring",
    lasts: 80 * MINUTE,
    draw: (size, random) => ({
      kind: "tank-leaks",
      tank: random.oneOf(["fuel-port", "fuel-starboard"] as const),
      outflow: 20 + 80 * size,
    }),
  },
  "mooring-drags": {
    when: "at-the-mooring",
    lasts: 15 * MINUTE,
    draw: (size) => ({ kind: "mooring-drags", speed: 0.06 + 0.3 * size }),
  },
  "device-gone": {
    when: "under-load",
    lasts: 3 * MINUTE,
    draw: (_size, random) => ({ kind: "device-gone", device: gateway(random) }),
  },
  "backbone-fails": {
    when: "under-load",
    lasts: 3 * MINUTE,
    draw: (size) => ({ kind: "backbone-fails", when: "always", hit: 0.02 + 0.5 * size }),
  },
  "address-changes": {
    when: "running",
    lasts: 3 * MINUTE,
    draw: (_size, random) => ({
      kind: "address-changes",
      device: gateway(random),
      address: 70 + Math.floor(random.between(0, 100)),
    }),
  },
  "frames-interleave": {
    when: "running",
    lasts: 3 * MINUTE,
    draw: () => ({ kind: "frames-interleave" }),
  },
  "clock-off": {
    when: "running",
    lasts: 3 * MINUTE,
    draw: (size, random) => ({
      kind: "clock-off",
      by: Math.round((random.fraction() < 0.5 ? -1 : 1) * (1 + 600 * size) * 1000) * MILLISECOND,
    }),
  },
  "reading-noise": {
    when: "running",
    lasts: 5 * MINUTE,
    draw: (size, random) => {
      const [field, most] = random.oneOf(NOISE);
      return {
        kind: "reading",
        device: gateway(random),
        field,
        reads: "noise",
        most: most * (0.1 + 0.9 * size),
      };
    },
  },
  "reading-now-and-then": {
    when: "running",
    lasts: 5 * MINUTE,
    draw: (size, random) => ({
      kind: "reading",
      device: gateway(random),
      field: random.oneOf(ENGINE_READINGS),
      reads: "now-and-then",
      missing: 0.05 + 0.6 * size,
    }),
  },
  "reading-the-same": {
    when: "running",
    lasts: 10 * MINUTE,
    draw: (_size, random) => ({
      kind: "reading",
      device: gateway(random),
      field: random.oneOf(ENGINE_READINGS),
      reads: "the-same",
    }),
  },
  "reading-nothing": {
    when: "running",
    lasts: 3 * MINUTE,
    draw: (_size, random) => ({
      kind: "reading",
      device: gateway(random),
      field: random.oneOf(ENGINE_READINGS),
      reads: "nothing",
    }),
  },
  "repeats-itself": {
    when: "running",
    lasts: 5 * MINUTE,
    draw: (size, random) => ({
      kind: "repeats-itself",
      device: gateway(random),
      every: Math.round(1000 + 6000 * size) * MILLISECOND,
    }),
  },
  "fix-strays": {
    when: "at-the-mooring",
    lasts: 15 * MINUTE,
    draw: (size) => ({ kind: "fix-strays", metres: 3 + 15 * size }),
  },
  "float-loose": {
    when: "at-the-mooring",
    lasts: 30 * MINUTE,
    draw: () => ({ kind: "float-loose", bilge: "aft" }),
  },
} as const satisfies Readonly<Record<string, TripFault>>;

export type TripFaultName = keyof typeof TRIP_FAULTS;

const ENGINE_READINGS = [
  "speed",
  "oil-pressure",
  "coolant-temperature",
  "alternator-voltage",
] as const;

/** The most that a reading trembles, in the unit of the wire. */
const NOISE = [
  ["speed", 120],
  ["oil-pressure", 120_000],
  ["coolant-temperature", 8],
  ["alternator-voltage", 0.8],
] as const;

function gateway(random: Random): string {
  return `${side(random)}-gateway`;
}
