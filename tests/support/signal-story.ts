import type { AlarmRecord } from "../../src/alarms/alarm-record.ts";
import type { AlarmChange } from "../../src/alarms/change.ts";
import type { Rule } from "../../src/alarms/rules/rule.ts";
import { type Boat, UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import type { BoatCondition } from "../../src/boat/boat-state.ts";
import { Quality, QUALITY_WORDS, REASON_WORDS } from "../../src/boat/quality.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import { openRecording } from "../../src/bus/open-recording.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { steadyRecording } from "../../src/commands/sources/steady-source.ts";
import { type Micros, MILLISECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import type { Scenario } from "../../src/simulator/happening.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { SimulatorSource } from "../../src/simulator/simulator-source.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { roundedText } from "../../src/units/rounding.ts";
import { Watch } from "../../src/watch.ts";
import type { SpokenRecording } from "./spoken-recording.ts";
import { MORNING } from "./talking-boat.ts";

/** What the signals of a recording said, one after another. */
export interface SignalStory {
  readonly watch: Watch;
  /** Each different thing that a signal said: milliseconds since the first frame, and words. */
  readonly said: ReadonlyMap<string, readonly (readonly [at: number, what: string])[]>;
  /** Each change of an alarm, in order. */
  readonly changes: readonly AlarmChange[];
  /** Wall time of the first frame. */
  readonly began: Micros;
}

/** What is watched while the story is told. */
export interface Watching {
  readonly rules: readonly Rule[];
  readonly condition: BoatCondition;
  /** What was kept of the alarms before a restart. */
  readonly memory?: readonly AlarmRecord[];
}

const NOTHING: Watching = { rules: [], condition: "left" };

/** The story of a recording. */
export async function recordingStory(
  file: string,
  boat?: Partial<Boat>,
  watching?: Watching,
): Promise<SignalStory> {
  const busNames = new BusNames();
  return storyOf(await openRecording(file, { buses: busNames }), busNames, boat, watching);
}

/** The story of a scenario of the simulator, by its name or its own, with whatever befalls the bus in it. */
export function scenarioStory(
  told: string | Scenario,
  boat?: Partial<Boat>,
  watching?: Watching,
): Promise<SignalStory> {
  const busNames = new BusNames();
  const scenario = typeof told === "string" ? SCENARIOS.get(told) : told;
  if (scenario === undefined) throw new RangeError(`no story "${told}"`);
  busNames.numberOf("can0");
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({ scenario, encoder, start: MORNING, seed: 1 });
  return storyOf(steadyRecording(new SimulatorSource(simulator)), busNames, boat, watching);
}

/** The story of a recording whose messages were said in words. */
export function spokenStory(
  { frames: { batch, buses } }: SpokenRecording,
  boat?: Partial<Boat>,
  watching?: Watching,
): Promise<SignalStory> {
  const source = {
    async *batches() {
      yield await Promise.resolve(batch);
    },
  };
  return storyOf(source, buses, boat, watching);
}

/** Plays frames and writes down whatever signals say, as "69.5" or "bad out-of-range". */
async function storyOf(
  source: Pick<FrameSource, "batches">,
  busNames: BusNames,
  boat: Partial<Boat> = {},
  { rules, condition, memory }: Watching = NOTHING,
): Promise<SignalStory> {
  const said = new Map<string, [number, string][]>();
  const changes: AlarmChange[] = [];
  let began: Micros | undefined;
  const watch: Watch = new Watch({
    boat: { ...UNKNOWN_BOAT, ...boat },
    rules,
    busNames,
    memory,
    boatState: { condition, winterised: false },
    onSignals: ({ table }, _by, now) => {
      for (const signal of table.fresh.subarray(0, table.freshCount)) {
        const { name } = table.facts[signal];
        const story = said.get(name) ?? [];
        said.set(name, story);
        story.push([Math.round((now - (began ?? now)) / MILLISECOND), wordsOf(watch, signal)]);
      }
    },
  });
  for await (const batch of source.batches()) {
    if (batch.count > 0) began ??= batch.times[0];
    watch.feed(batch);
    changes.push(...watch.takeChanges());
  }
  return { watch, said, changes, began: began ?? 0 };
}

function wordsOf({ signals: { table } }: Watch, signal: number): string {
  const quality = table.qualities[signal];
  const unless = [QUALITY_WORDS[quality], REASON_WORDS[table.reasons[signal]]].join(" ");
  if (quality === Quality.bad) return unless;
  const value = table.word(signal) ??
    roundedText(table.values[signal], table.facts[signal].decimals);
  return quality === Quality.good ? value : `${value} ${unless}`;
}
