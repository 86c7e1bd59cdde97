import { type Boat, UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { Quality, QUALITY_WORDS, REASON_WORDS } from "../../src/boat/quality.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import { openRecording } from "../../src/bus/open-recording.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { type Micros, MILLISECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { SimulatorSource } from "../../src/simulator/simulator-source.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { roundedText } from "../../src/units/rounding.ts";
import { Watch } from "../../src/watch.ts";
import { MORNING } from "./talking-boat.ts";

/** What the signals of a recording said, one after another. */
export interface SignalStory {
  readonly watch: Watch;
  /** Each different thing that a signal said: milliseconds since the first frame, and words. */
  readonly said: ReadonlyMap<string, readonly (readonly [at: number, what: string])[]>;
}

/** The story of a recording. */
export async function recordingStory(file: string, boat?: Partial<Boat>): Promise<SignalStory> {
  const busNames = new BusNames();
  return storyOf(await openRecording(file, { buses: busNames }), busNames, boat);
}

/** The story of one of the simulator's scenarios, with whatever befalls the bus in it. */
export function scenarioStory(name: string, boat?: Partial<Boat>): Promise<SignalStory> {
  const busNames = new BusNames();
  const scenario = SCENARIOS.get(name);
  if (scenario === undefined) throw new RangeError(`no story "${name}"`);
  busNames.numberOf("can0");
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({ scenario, encoder, start: MORNING, seed: 1 });
  return storyOf(new SimulatorSource(simulator), busNames, boat);
}

/** Plays frames and writes down whatever signals say, as "69.5" or "bad out-of-range". */
async function storyOf(
  source: FrameSource,
  busNames: BusNames,
  boat: Partial<Boat> = {},
): Promise<SignalStory> {
  const said = new Map<string, [number, string][]>();
  let began: Micros | undefined;
  const watch: Watch = new Watch({
    boat: { ...UNKNOWN_BOAT, ...boat },
    rules: [],
    busNames,
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
  }
  return { watch, said };
}

function wordsOf({ signals: { table } }: Watch, signal: number): string {
  const quality = table.qualities[signal];
  const unless = [QUALITY_WORDS[quality], REASON_WORDS[table.reasons[signal]]].join(" ");
  if (quality === Quality.bad) return unless;
  const value = table.word(signal) ??
    roundedText(table.values[signal], table.facts[signal].decimals);
  return quality === Quality.good ? value : `${value} ${unless}`;
}
