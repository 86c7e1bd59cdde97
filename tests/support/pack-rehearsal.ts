import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Rule } from "../../src/alarms/rules/rule.ts";
import type { Boat } from "../../src/boat/boat.ts";
import type { BoatCondition } from "../../src/boat/boat-state.ts";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import { openRecording } from "../../src/bus/open-recording.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { steadyRecording } from "../../src/commands/sources/steady-source.ts";
import { sayProblems } from "../../src/ground/problem-words.ts";
import { SECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { SimulatorSource } from "../../src/simulator/simulator-source.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { Watch } from "../../src/watch.ts";
import { rulesOf } from "./hand-made-boat.ts";
import { MORNING } from "./talking-boat.ts";

/** Where the rule packs lie. */
export const PACK_FOLDER = fileURLToPath(new URL("../../rules/", import.meta.url));

/** Names of all packs, without `.yaml`. */
export const PACK_NAMES: readonly string[] = readdirSync(PACK_FOLDER)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => name.slice(0, -".yaml".length))
  .sort();

export function packText(name: string): string {
  return readFileSync(`${PACK_FOLDER}${name}.yaml`, "utf8");
}

/** The rules of these packs, as one set; of all packs when none is named. */
export function packRules(names: readonly string[] = PACK_NAMES): Rule[] {
  const rules = names.flatMap((name) => rulesOf(packText(name)));
  // Petrol and diesel give one tag each to their own engines; a boat uses one of the two.
  const byTag = new Map(rules.map((rule) => [rule.tag, rule]));
  return [...byTag.values()];
}

/** Every pack that a boat with engines of one fuel would use. */
export function packsFor(fuel: "diesel" | "petrol"): Rule[] {
  const other = fuel === "diesel" ? "engine-petrol" : "engine-diesel";
  return packRules(PACK_NAMES.filter((name) => name !== other));
}

/** @throws {Error} with every problem of the text */
export function boatFrom(text: string): Boat {
  const { boat, problems } = readBoatFile("boat.yaml", text);
  if (boat === undefined) throw new Error(sayProblems(problems, "nothing was changed"));
  return boat;
}

/** What was raised. */
export interface Raised {
  readonly tag: string;
  readonly subject: string;
  /** Seconds since the first frame. */
  readonly at: number;
}

/** `bus-dead main`, one for each raising. */
export function namesOf(all: readonly Raised[]): string[] {
  return all.map(({ tag, subject }) => `${tag} ${subject}`);
}

export interface Rehearsing {
  readonly boat: Boat;
  readonly rules: readonly Rule[];
  readonly condition: BoatCondition;
  /** Of a scenario's chances; 1 when not given. */
  readonly seed?: number;
}

/** Every raising of a scenario, in order. */
export async function scenarioRaises(name: string, rehearsing: Rehearsing): Promise<Raised[]> {
  const [raised] = await sameScenarioRaises(name, [rehearsing], rehearsing.seed);
  return raised;
}

/** The same by several sets of rules, each on a boat of its own that hears the same frames. */
export function sameScenarioRaises(
  name: string,
  rehearsings: readonly Rehearsing[],
  seed = 1,
): Promise<Raised[][]> {
  const scenario = SCENARIOS.get(name);
  if (scenario === undefined) throw new RangeError(`no story "${name}"`);
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({
    scenario,
    encoder,
    start: MORNING,
    seed,
  });
  return raises(new SimulatorSource(simulator), busNames, rehearsings);
}

/** Every raising of a recording, in order. */
export async function recordingRaises(file: string, rehearsing: Rehearsing): Promise<Raised[]> {
  const busNames = new BusNames();
  const source = await openRecording(file, { buses: busNames });
  const [raised] = await raises(source, busNames, [rehearsing]);
  return raised;
}

async function raises(
  source: FrameSource,
  busNames: BusNames,
  rehearsings: readonly Rehearsing[],
): Promise<Raised[][]> {
  const boats = rehearsings.map(({ boat, rules, condition }) => ({
    watch: new Watch({ boat, rules, busNames, boatState: { condition, winterised: false } }),
    raised: new Array<Raised>(),
  }));
  let began: number | undefined;
  for await (const batch of steadyRecording(source).batches()) {
    if (batch.count === 0) continue;
    began ??= batch.times[0];
    for (const { watch, raised } of boats) {
      watch.feed(batch);
      for (const { tag, subject, from, to, time, priority } of watch.takeChanges()) {
        const isCaution = priority === "caution";
        if (to === "unacknowledged" || isCaution && from === "normal") {
          raised.push({ tag, subject, at: (time - began) / SECOND });
        }
      }
    }
  }
  return boats.map(({ raised }) => raised);
}
