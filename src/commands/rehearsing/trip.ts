import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { type Micros, parseIsoTime } from "../../ground/time.ts";
import { ClockJumps } from "../../nmea2000/recorded-clock/clock-jumps.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { occurrencesOf } from "../../rehearsal/occurrences.ts";
import { ScheduledAnswers } from "../../rehearsal/scheduled-answers.ts";
import type { TripResult } from "../../rehearsal/trials/trip-result.ts";
import type { TripTruth } from "../../rehearsal/trials/trials.ts";
import { Simulator } from "../../simulator/simulator.ts";
import { randomTrip, type TripOptions } from "../../simulator/trip.ts";
import { Watch } from "../../watch.ts";
import { RowEncoder } from "../sources/row-encoder.ts";

/** What every trip of sea trials shares; plain data, since it goes to other threads. */
export interface TripOrder {
  readonly options: TripOptions;
  readonly boat: Boat;
  readonly rules: readonly Rule[];
  /** From raising to answer; null: nobody answers. */
  readonly wait: Micros | null;
}

const BEGINS = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;
const BATCH_FRAMES = 4096;

/** What really went wrong on a trip; null: nothing. */
export function truthOfTrip(seed: number, options: TripOptions): TripTruth | null {
  return randomTrip(seed, options).truth[0] ?? null;
}

/** Makes one trip, with people aboard until she lies at her mooring, and tells what rang. */
export function makeTrip(seed: number, { options, boat, rules, wait }: TripOrder): TripResult {
  const { scenario, ashore } = randomTrip(seed, options);
  const busNames = new BusNames();
  const simulator = new Simulator({
    scenario,
    encoder: new RowEncoder(ALL_ROWS),
    start: BEGINS,
    seed,
    bus: busNames.numberOf("can0"),
  });
  const watch = new Watch({
    boat,
    rules,
    busNames,
    boatState: { condition: "aboard", winterised: false },
    answering: wait === null ? undefined : new ScheduledAnswers(wait),
  });
  const jumps = new ClockJumps();
  const batch = new FrameBatch(BATCH_FRAMES);
  const goOnUntil = (time: Micros) => {
    for (let whole = false; !whole;) {
      batch.count = 0;
      whole = simulator.fill(batch, BEGINS + time);
      for (const settled of jumps.take(batch)) watch.feed(settled);
    }
    for (const settled of jumps.end()) watch.feed(settled);
  };
  goOnUntil(ashore);
  watch.setCondition("left");
  goOnUntil(scenario.lasting);
  const rang = occurrencesOf(watch.takeChanges())
    .map(({ tag, subject, raised }) => ({ tag, subject, at: raised - BEGINS }));
  return { lasting: scenario.lasting, rang };
}
