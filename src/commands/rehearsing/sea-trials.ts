import type { Problem } from "../../ground/problem.ts";
import type { Micros } from "../../ground/time.ts";
import { otherBoatWords } from "../../rehearsal/trials/other-boat.ts";
import { readTrials } from "../../rehearsal/trials/read-trials.ts";
import { TrialFigures } from "../../rehearsal/trials/trial-figures.ts";
import { trialLines, trialObjects } from "../../rehearsal/trials/trial-lines.ts";
import { seedsOf, type Trials } from "../../rehearsal/trials/trials.ts";
import { EXTRA_BOXES } from "../../simulator/aboard.ts";
import type { TripOptions } from "../../simulator/trip.ts";
import { TRIP_FAULTS, type TripFaultName } from "../../simulator/trip-faults.ts";
import type { Surroundings } from "../command-line/command.ts";
import { ExitCode } from "../command-line/exit-codes.ts";
import { readTextFile, type TextFile } from "../command-line/text-file.ts";
import { speakOf } from "../settings/read-boat.ts";
import type { SoundSetup } from "../settings/setup.ts";
import { realClock } from "../watching/real-clock.ts";
import { allTrips } from "./all-trips.ts";
import { sayTimeLeft } from "./progress.ts";
import { truthOfTrip } from "./trip.ts";

export interface TrialsManner {
  /** From raising to answer; null: nobody answers. */
  readonly wait: Micros | null;
  readonly asJson: boolean;
  readonly around: Surroundings;
}

/**
 * `rehearse --trials`: makes the trips of a file and says what each rule found, missed and cried.
 * @throws {CommandFailure} with every problem of the file
 */
export async function makeTrials(
  place: string,
  { boat, rules }: SoundSetup,
  { wait, asJson, around }: TrialsManner,
): Promise<ExitCode> {
  const { terminal, folder, interrupted } = around;
  const { name, text } = await readTextFile(place, folder);
  const tags = rules.map(({ tag }) => tag);
  const read = readTrials(name, text, { ...SIMULATED, tags });
  speakOf(read.problems, "no trip was made", terminal);
  const trials = read.value;
  if (trials === undefined) return ExitCode.wrongInput;

  const options = optionsOf(trials);
  const seeds = seedsOf(trials);
  const other = otherBoatWords(boat, seeds.map((seed) => truthOfTrip(seed, options)));
  if (other !== null) terminal.error(other);
  const figures = new TrialFigures(trials, boat, rules);
  const clock = realClock();
  const begun = clock.steady();
  let made = 0;
  const threads = navigator.hardwareConcurrency;
  const trips = allTrips({ options, boat, rules, wait }, seeds, { threads, stopped: interrupted });
  for await (const { seed, result } of trips) {
    figures.take(result, truthOfTrip(seed, options));
    made++;
    const left = sayTimeLeft(clock.steady() - begun, made, seeds.length - made);
    terminal.status(`${made} of ${seeds.length} trips made${left}`);
  }
  if (interrupted.aborted) {
    terminal.error(`Interrupted: ${made} of ${seeds.length} trips were made.`);
  }
  if (made === 0) return ExitCode.well;
  if (asJson) {
    for (const one of trialObjects(figures.result)) terminal.out(JSON.stringify(one));
  } else {
    for (const line of trialLines(figures.result)) terminal.out(line);
  }
  return ExitCode.well;
}

/** What is wrong in a file of trials; rules are not at hand. */
export function trialProblems({ name, text }: TextFile): Problem[] {
  return readTrials(name, text, { ...SIMULATED, tags: null }).problems;
}

const SIMULATED = { faults: Object.keys(TRIP_FAULTS), boxes: EXTRA_BOXES };

function optionsOf({ faults, chance, aboard }: Trials): TripOptions {
  return {
    faults: faults.map(({ name }) => name).filter(isTripFault),
    chance,
    aboard: { also: EXTRA_BOXES.filter((box) => aboard.includes(box)) },
  };
}

function isTripFault(name: string): name is TripFaultName {
  return Object.hasOwn(TRIP_FAULTS, name);
}
