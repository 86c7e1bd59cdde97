import type { Micros } from "../../ground/time.ts";

/** No file asks for more. */
export const MOST_TRIPS = 100_000;

/** Sea trials: trips by chance, with and without a fault, and who should tell of which fault. */
export interface Trials {
  readonly trips: number;
  /** Another one gives other trips, each of them. */
  readonly seed: number;
  /** Share of the trips on which something goes wrong. */
  readonly chance: number;
  /** Boxes aboard beside those that every simulated boat has. */
  readonly aboard: readonly string[];
  readonly faults: readonly TrialFault[];
}

/** A number for each trip; no two files of different seeds share one. */
export function seedsOf({ seed, trips }: Pick<Trials, "seed" | "trips">): number[] {
  const first = (seed - 1) * MOST_TRIPS + 1;
  return Array.from({ length: trips }, (_, i) => first + i);
}

/** A fault that a trip may have, by the simulator's name for it. */
export interface TrialFault {
  readonly name: string;
  /** Tags that should tell of it. With none it is a nuisance: nothing should ring. */
  readonly toldBy: readonly string[];
  /** From its beginning to the alarm; null: until the trip is over. */
  readonly within: Micros | null;
  /** Tags that may ring besides, without being false. */
  readonly mayRing: readonly string[];
}

/** What really went wrong on one trip, as its simulator knows it. */
export interface TripTruth {
  readonly name: string;
  /** Whom it befell, such as "port"; "boat" for the whole boat. */
  readonly subject: string;
  /** Since the trip began. */
  readonly began: Micros;
}
