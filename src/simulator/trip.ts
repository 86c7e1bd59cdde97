import { type Micros, SECOND } from "../ground/time.ts";
import type { Aboard } from "./aboard.ts";
import type { Scenario } from "./happening.ts";
import { Random } from "./random.ts";
import { woven } from "./scenarios/passages.ts";
import { TRIP_FAULTS, type TripFault, type TripFaultName } from "./trip-faults.ts";
import { planTrip, type TripPlan } from "./trip-plan.ts";
import { type Truth, truthOf } from "./truth.ts";

export interface TripOptions {
  /** Of which one is drawn. With none, all goes well. */
  readonly faults: readonly TripFaultName[];
  /** That one of them happens; 1 when not given. */
  readonly chance?: number;
  /** Our own boat when not given. */
  readonly aboard?: Aboard;
}

/** A trip by chance, and what really went wrong on it. */
export interface Trip {
  readonly seed: number;
  readonly scenario: Scenario;
  /** When those who came along go ashore, since the start: she lies at her mooring. */
  readonly ashore: Micros;
  /** At most one by now. */
  readonly truth: readonly Truth[];
  /** Of that fault: from 0, the mildest that is drawn, to 1, the worst; null without one. */
  readonly size: number | null;
}

/** The same seed and options give the same trip; other faults leave the trip itself as it is. */
export function randomTrip(seed: number, { faults, chance = 1, aboard }: TripOptions): Trip {
  const plan = planTrip(new Random(seed, "trip"));
  const random = new Random(seed, "trip fault");
  const happens = random.fraction() < chance && faults.length > 0;
  const size = random.fraction();
  const name = happens ? random.oneOf(faults) : undefined;
  const fault = name === undefined ? undefined : TRIP_FAULTS[name];
  const began = fault === undefined ? 0 : beginning(plan, fault, random);
  const scenario: Scenario = {
    name: `trip-${seed}`,
    story: `A trip by chance, number ${seed}, ${
      name === undefined ? "without a fault" : `with ${name}`
    }.`,
    lasting: Math.max(plan.lasting, fault === undefined ? 0 : began + fault.lasts),
    again: false,
    aboard,
    start: plan.start,
    happenings: fault === undefined ? plan.happenings : woven(plan.happenings, [
      { at: began, do: "fault", fault: fault.draw(size, random) },
    ]),
  };
  const { mooredFrom: ashore } = plan;
  return {
    seed,
    scenario,
    ashore,
    truth: truthOf(scenario),
    size: fault === undefined ? null : size,
  };
}

/** A moment at which it can be felt, early enough for it to be felt for a while. */
function beginning(plan: TripPlan, { when, lasts }: TripFault, random: Random): Micros {
  if (when === "at-the-mooring") return plan.mooredFrom + random.time(20, 120);
  const { from, to } = when === "running" ? plan.running : plan.underLoad;
  const latest = Math.max(from, to - lasts);
  return random.time(from / SECOND, latest / SECOND);
}
