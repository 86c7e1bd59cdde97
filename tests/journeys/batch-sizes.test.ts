import fc from "fast-check";
import { expect, test } from "vitest";
import type { AlarmChange } from "../../src/alarms/change.ts";
import { partOf } from "../../src/bus/frame-batch.ts";
import { SECOND } from "../../src/ground/time.ts";
import { Watch } from "../../src/watch.ts";
import { cruiser } from "../support/cruiser.ts";
import { packsFor } from "../support/pack-rehearsal.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

const RULES = packsFor("diesel");
const BOAT = cruiser();

/** The oil goes at 60 s, under load; the engine stops at 66 s, and at 67 s its gateway is dark. */
const RECORDING = new SpokenRecording().engine(0, 60, { speed: 2500, oil: 45 })
  .engine(60, 66, { speed: 2500, oil: 2 })
  .engine(66, 67, { speed: 0, oil: 0 });

/** What happens to the alarms when the recording is fed in batches of these sizes, in turn. */
function changesIn(sizes: readonly number[]): AlarmChange[] {
  const { batch, buses } = RECORDING.frames;
  const watch = new Watch({ boat: BOAT, rules: RULES, busNames: buses });
  const changes: AlarmChange[] = [];
  for (let first = 0, turn = 0; first < batch.count; turn++) {
    const size = Math.min(sizes[turn % sizes.length], batch.count - first);
    watch.feed(partOf(batch, first, first + size));
    changes.push(...watch.takeChanges());
    first += size;
  }
  watch.advance(RECORDING.begins + 600 * SECOND);
  return [...changes, ...watch.takeChanges()];
}

test("the same frames give the same changes at every batch size", () => {
  const changes = changesIn([1024]);
  expect(changes.map(({ tag, to }) => `${tag} ${to}`)).toContain(
    "oil-pressure-low returned-unacknowledged",
  );
  const all = JSON.stringify(changes);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1 }), (sizes) => {
      expect(JSON.stringify(changesIn(sizes))).toBe(all);
    }),
    { numRuns: 25 },
  );
});
