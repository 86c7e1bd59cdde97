import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { AlarmRecord } from "../../src/alarms/alarm-record.ts";
import type { AlarmChange } from "../../src/alarms/change.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FRAME_BYTES, FrameBatch } from "../../src/bus/frame-batch.ts";
import { type Micros, MILLISECOND, SECOND } from "../../src/ground/time.ts";
import type { WireValue } from "../../src/nmea2000/encode.ts";
import { FrameWriter } from "../../src/nmea2000/frame-writer.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { Watch } from "../../src/watch.ts";
import { boatWith, rulesOf } from "../support/hand-made-boat.ts";
import { MORNING } from "../support/talking-boat.ts";

/** The nasty situations, from frames to alarms, with the engine rules of the example. */
const RULES = rulesOf(readFileSync(
  fileURLToPath(new URL("../../examples/hazel-comfort/rules/engines.yaml", import.meta.url)),
  "utf8",
));

const BOAT = boatWith([{
  group: "engine",
  name: "port",
  keys: [{ quantity: "self", instance: 0 }],
  words: { fuel: "diesel" },
  numbers: { "rated-speed": 2600 },
}]);

const PSI = 6894.757293168362;

interface Gateway {
  readonly source?: number;
  readonly speed: WireValue;
  /** psi */
  readonly oil?: number;
  readonly status?: WireValue;
}

/** Frames of engine gateways at their usual periods: speed ten times, the rest twice a second. */
class Recording {
  readonly batch = new FrameBatch(60_000);
  readonly #writer = new FrameWriter();
  readonly #rows = new Map(ALL_ROWS.map((row) => [row.pgn, row]));

  engine(from: number, to: number, { source = 1, speed, oil, status }: Gateway): this {
    for (let tick = Math.round(from * 10); tick < Math.round(to * 10); tick++) {
      const time = MORNING + tick * 100 * MILLISECOND + source;
      this.#say(time, source, 127488, { instance: 0, speed });
      if (tick % 5 !== 0) continue;
      const pressure = oil === undefined ? null : oil * PSI;
      const values = { instance: 0, "oil-pressure": pressure };
      this.#say(
        time,
        source,
        127489,
        status === undefined ? values : {
          ...values,
          "status-1": status,
        },
      );
    }
    return this;
  }

  #say(time: Micros, source: number, pgn: number, values: Record<string, WireValue>): void {
    const row = this.#rows.get(pgn);
    if (
      row === undefined || !this.#writer.write(this.batch, row, values, { bus: 0, source, time })
    ) {
      throw new RangeError("no row, or no room");
    }
  }
}

/** What happens to the alarms when a recording is fed in batches of these sizes, in turn. */
function watched(
  recording: Recording,
  until: number,
  sizes: readonly number[] = [1024],
  memory: readonly AlarmRecord[] = [],
): { watch: Watch; changes: AlarmChange[] } {
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const watch = new Watch({ boat: BOAT, rules: RULES, busNames, memory });
  const changes: AlarmChange[] = [];
  const { batch } = recording;
  for (let first = 0, turn = 0; first < batch.count; turn++) {
    const size = Math.min(sizes[turn % sizes.length], batch.count - first);
    watch.feed(part(batch, first, size));
    changes.push(...watch.takeChanges());
    first += size;
  }
  watch.advance(MORNING + until * SECOND);
  changes.push(...watch.takeChanges());
  return { watch, changes };
}

function part(batch: FrameBatch, first: number, count: number): FrameBatch {
  const small = new FrameBatch(count);
  small.times.set(batch.times.subarray(first, first + count));
  small.identifiers.set(batch.identifiers.subarray(first, first + count));
  small.lengths.set(batch.lengths.subarray(first, first + count));
  small.flags.set(batch.flags.subarray(first, first + count));
  small.data.set(batch.data.subarray(first * FRAME_BYTES, (first + count) * FRAME_BYTES));
  small.count = count;
  return small;
}

function story(changes: readonly AlarmChange[]): string[] {
  return changes.map(({ tag, subject, to, time }) =>
    `${((time - MORNING) / SECOND).toFixed(2)} ${tag} ${subject} ${to}`
  );
}

/** The oil goes at 60 s, under load; the engine stops at 66 s, and at 67 s all is dark. */
const oilLoss = () =>
  new Recording()
    .engine(0, 60, { speed: 2500, oil: 45 })
    .engine(60, 66, { speed: 2500, oil: 2 })
    .engine(66, 67, { speed: 0, oil: 0 });

describe("situation 1: two engine gateways at one instance", () => {
  test("one caution that names both devices; no over-speed, no low oil", () => {
    const recording = new Recording();
    for (let tick = 0; tick < 300; tick++) {
      recording.engine(tick / 10, (tick + 1) / 10, { source: 1, speed: 3000, oil: 40 });
      recording.engine(tick / 10, (tick + 1) / 10, { source: 2, speed: 700, oil: 3 });
    }
    const { changes } = watched(recording, 30);
    expect(changes.map(({ tag, to }) => `${tag} ${to}`)).toEqual(["two-senders acknowledged"]);
    expect(changes[0].why).toMatch(
      /^Engine port is sent by .+ and .+; nothing is judged from it\.$/,
    );
  });
});

describe("situation 2: the key is turned off", () => {
  test.each([
    ["the gateway dies", new Recording().engine(0, 60, { speed: 650, oil: 40 })],
    [
      "the gateway goes on with 'not available'",
      new Recording().engine(0, 60, { speed: 650, oil: 40 }).engine(60, 120, { speed: null }),
    ],
  ])("at idle, and %s: no alarm", (_, recording) => {
    expect(story(watched(recording, 3600).changes)).toEqual([]);
  });

  test("at 2,500 rpm it is a sender that is lost: a warning 5 s after the last frame", () => {
    const { changes } = watched(new Recording().engine(0, 60, { speed: 2500, oil: 45 }), 3600);
    // What this gateway never sends is said not to be watched, which is a caution.
    const told = changes.filter(({ tag }) => tag !== "not-watched");
    expect(story(told)).toEqual(["64.90 engine-sender-lost port unacknowledged"]);
  });
});

describe("situation 4: status words", () => {
  test("of all ones raise nothing, and of zeros neither", () => {
    const recording = new Recording().engine(0, 60, { speed: 650, oil: 40, status: null })
      .engine(60, 120, { speed: 650, oil: 40, status: [] });
    expect(story(watched(recording, 119.9).changes)).toEqual([]);
  });

  test("with the switch's bit set raise its alarm", () => {
    const recording = new Recording().engine(0, 60, { speed: 650, oil: 40, status: [] })
      .engine(60, 120, { speed: 650, oil: 40, status: ["low-oil-pressure"] });
    expect(story(watched(recording, 119.9).changes)).toEqual([
      "62.00 oil-pressure-switch port unacknowledged",
    ]);
  });
});

describe("situation 6: real oil loss, then everything goes dark", () => {
  test("raised after 3 s, told once, and kept over stop, silence and restart until answered", () => {
    const { watch, changes } = watched(oilLoss(), 600);
    expect(story(changes).map((line) => line.replace(/^(\d+)\.\d+/, "$1"))).toEqual([
      "63 oil-pressure-low-under-load port unacknowledged",
      "79 oil-pressure-low-under-load port returned-unacknowledged",
    ]);
    const memory = watch.alarms.memory(watch.timeline.now);
    const restarted = watched(
      new Recording().engine(700, 760, { speed: 0, oil: 0 }),
      4000,
      [7],
      memory,
    );
    expect(restarted.changes).toEqual([]);
    expect(restarted.watch.alarms.statuses()[0]).toMatchObject({
      tag: "oil-pressure-low-under-load",
      state: "returned-unacknowledged",
      occurrence: 1,
    });
  });
});

test("the same frames give the same changes at every batch size", () => {
  const recording = oilLoss();
  const { changes } = watched(recording, 600);
  expect(changes.length).toBeGreaterThan(0);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1 }), (sizes) => {
      expect(watched(recording, 600, sizes).changes).toEqual(changes);
    }),
    { numRuns: 25 },
  );
});
