import { describe, expect, test } from "vitest";
import type { AlarmChange } from "../../src/alarms/change.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch, partOf } from "../../src/bus/frame-batch.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { SECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { Watch } from "../../src/watch.ts";
import { cruiser } from "../support/cruiser.ts";
import { rulesOf } from "../support/hand-made-boat.ts";
import { packsFor } from "../support/pack-rehearsal.ts";
import { MORNING } from "../support/talking-boat.ts";

const BOAT = cruiser();

/** All packs, and the two kinds of test that these stories would not raise. */
const RULES = [
  ...packsFor("diesel"),
  ...rulesOf(`alarms:
  - tag: engines-apart
    title: Engines run apart
    deviation:
      signal: engine/port/speed
      against: engine/starboard/speed
      limit: 300 rpm
      deadband: 50 rpm
    on-delay: 2 s
    priority: caution
  - tag: one-of-two
    title: One engine of two runs
    discrepancy:
      commanded: { signal: engine/port/speed, over: 500 rpm }
      actual: { signal: engine/starboard/speed, over: 500 rpm }
    on-delay: 2 s
    priority: caution
`),
];
const KINDS = new Map(RULES.map(({ tag, test }) => [tag, test.kind]));

/** Stories that raise every kind of test together. */
const STORIES = ["oil-lost-under-load", "battery-opens-under-charge", "siphon", "pump-choked"];

/** All that a story says on the bus. */
function framesOf(name: string): FrameBatch {
  const scenario = SCENARIOS.get(name);
  if (scenario === undefined) throw new RangeError(`no story "${name}"`);
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({ scenario, encoder, start: MORNING, seed: 1 });
  const batch = new FrameBatch(100_000);
  simulator.fill(batch, MORNING + scenario.lasting);
  return batch;
}

/** @param seesAll somebody looks at every value, as where a history is kept */
function changesIn(frames: FrameBatch, sizes: readonly number[], seesAll = false): AlarmChange[] {
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const watch = new Watch({
    boat: BOAT,
    rules: RULES,
    busNames,
    boatState: { condition: "left", winterised: false },
    onSignals: seesAll ? () => {} : undefined,
  });
  const changes: AlarmChange[] = [];
  for (let first = 0, turn = 0; first < frames.count; turn++) {
    const past = Math.min(first + sizes[turn % sizes.length], frames.count);
    watch.feed(partOf(frames, first, past));
    changes.push(...watch.takeChanges());
    first = past;
  }
  watch.advance(frames.times[frames.count - 1] + 600 * SECOND);
  return [...changes, ...watch.takeChanges()];
}

describe("stories that raise every kind of test", () => {
  const raised = new Set<string | undefined>();

  test.each(STORIES)("%s: the same changes at every batch size", (name) => {
    const frames = framesOf(name);
    const changes = changesIn(frames, [1024]);
    for (const { tag } of changes) raised.add(KINDS.get(tag));
    const all = JSON.stringify(changes);
    for (const sizes of [[1], [7, 300, 2], [frames.count]]) {
      expect(JSON.stringify(changesIn(frames, sizes)) === all).toBe(true);
    }
    expect(JSON.stringify(changesIn(frames, [1024], true)) === all).toBe(true);
  });

  test("and they do", () => {
    expect([...new Set(KINDS.values())].filter((kind) => !raised.has(kind))).toEqual([]);
  });
});
