import { type Micros, MINUTE, SECOND } from "../ground/time.ts";
import type { Timed } from "./happening.ts";
import type { Random } from "./random.ts";
import type { StartState } from "./start-state.ts";
import { BOTH, getUnderWay, startEngines, throttle, woven } from "./scenarios/passages.ts";

/** A stretch of a trip. */
export interface Stretch {
  readonly from: Micros;
  readonly to: Micros;
}

/** A trip on which all goes well. */
export interface TripPlan {
  readonly start: StartState;
  readonly happenings: readonly Timed[];
  readonly lasting: Micros;
  readonly running: Stretch;
  readonly underLoad: Stretch;
  /** From when she lies at her mooring with shore power. */
  readonly mooredFrom: Micros;
}

/** Out of the harbour, along a few legs, home again, and some minutes at the mooring. */
export function planTrip(random: Random): TripPlan {
  const keys = random.time(5, 40);
  const away = keys + 7 * SECOND + random.time(20, 90);
  const { happenings: legs, end: homeward, way } = outward(random, away);
  const speed = speedOf(random, 1500, 2200);
  // The way out was not straight, so that the way home is not longer.
  const slow = homeward + Math.round(way / speed);
  const alongside = slow + random.time(60, 120);
  const stop = alongside + random.time(20, 90);
  const mooredFrom = stop + random.time(30, 60);
  const lasting = mooredFrom + random.time(4 * 60, 8 * 60);
  const start = startOf(random);
  return {
    start,
    lasting,
    running: { from: keys + 20 * SECOND, to: stop },
    underLoad: { from: away + 20 * SECOND, to: slow },
    mooredFrom,
    happenings: woven(
      [{ at: 0, do: "waves", times: random.between(0.5, 3) }],
      startEngines(keys),
      [{ at: keys + 10 * SECOND, do: "shore-power", on: false }],
      legs,
      [{ at: homeward, do: "steer-for-mooring" }],
      throttle(homeward, speed),
      throttle(slow, 800),
      outOfGear(alongside),
      throttle(alongside, 700),
      [{ at: alongside, do: "make-fast" }],
      BOTH.map((engine): Timed => ({ at: stop, do: "stop", engine })),
      keysOff(random, stop),
      [{ at: mooredFrom, do: "shore-power", on: true }],
      kettles(random, lasting),
      radio(random, away, slow),
    ),
  };
}

function startOf(random: Random): StartState {
  return {
    engines: random.between(10, 78),
    gateways: random.oneOf(["talking", "dark"] as const),
    shorePower: true,
    house: random.between(0.5, 0.97),
    battery: random.between(0.9, 0.99),
    aftBilge: random.between(4, 11),
  };
}

/** `way` is speed in 1/min times the time that it was held, which is distance enough. */
function outward(random: Random, from: Micros) {
  const happenings = getUnderWay(from, 1000, Math.round(random.between(180, 225)));
  let end = from + random.time(20, 60);
  let way = 1000 * (end - from);
  const count = 2 + Math.floor(random.between(0, 3));
  for (let leg = 0; leg < count; leg++) {
    const speed = random.fraction() < 0.15 ? 700 : speedOf(random, 1200, 2500);
    const lasting = random.time(60, 200);
    happenings.push(...throttle(end, speed));
    way += speed * lasting;
    end += lasting;
  }
  return { happenings, end, way };
}

function speedOf(random: Random, least: number, most: number): number {
  return 50 * Math.round(random.between(least, most) / 50);
}

function outOfGear(at: Micros): Timed[] {
  return BOTH.map((engine) => ({ at, do: "gear", engine, engaged: false }));
}

function keysOff(random: Random, stop: Micros): Timed[] {
  const gateway = random.oneOf(["dies", "not-available", "reads-zero"] as const);
  const at = stop + random.time(4, 15);
  return BOTH.map((engine) => ({ at, do: "key-off", engine, gateway }));
}

/** Somebody makes tea now and then. */
function kettles(random: Random, until: Micros): Timed[] {
  const happenings: Timed[] = [];
  for (let at = random.time(60, 900); at < until - 5 * MINUTE; at += random.time(600, 1500)) {
    const off = at + random.time(100, 200);
    happenings.push({ at, do: "load", amperes: random.between(20, 60) });
    happenings.push({ at: off, do: "load", amperes: 0 });
  }
  return happenings;
}

function radio(random: Random, from: Micros, to: Micros): Timed[] {
  const happenings: Timed[] = [];
  for (let at = from + random.time(10, 200); at < to; at += random.time(60, 400)) {
    happenings.push({ at, do: "radio", transmits: true });
    happenings.push({ at: at + random.time(5, 25), do: "radio", transmits: false });
  }
  return happenings;
}
