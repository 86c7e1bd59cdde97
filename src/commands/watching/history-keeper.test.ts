import { expect, test } from "vitest";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../bus/frame-source.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { minuteOf, USUAL_PLAN } from "../../store/history-plan.ts";
import { MemoryHistory } from "../../store/memory-history.ts";
import type { MinuteRecord } from "../../store/minute-record.ts";
import { Watch } from "../../watch.ts";
import { HistoryKeeper } from "./history-keeper.ts";
import { ClockSteps, steadySource } from "../sources/steady-source.ts";

/** 2026-06-14T10:00Z, and how far the clock was set then: the computer had begun in 1970. */
const TEN: Micros = 1_781_431_200 * SECOND;
const BEGAN: Micros = 20 * SECOND;
const STEP = TEN - BEGAN;
/** Rudder angle, PGN 127245, of address 1: an identifier and a payload that changes. */
const IDENTIFIER = (2 << 26 | 127245 << 8 | 1) >>> 0;
const SIGNAL = "rudder/0/angle";

/** A live bus that says one message every ten seconds; the clock is set after a hundred. */
async function* frames(steps: ClockSteps): AsyncGenerator<FrameBatch> {
  const batch = new FrameBatch(1);
  for (let i = 0; i <= 60; i++) {
    if (i === 10) steps.note({ kind: "clock-step", by: STEP });
    batch.times[0] = BEGAN + i * 10 * SECOND + (i >= 10 ? STEP : 0);
    batch.identifiers[0] = IDENTIFIER;
    batch.flags[0] = 1;
    batch.lengths[0] = 8;
    batch.data.set([0, 0xf8, 0xff, 0xff, i, 0, 0xff, 0xff]);
    batch.count = 1;
    await Promise.resolve();
    yield batch;
  }
}

class FailingHistory extends MemoryHistory {
  fails = false;

  override add(records: readonly MinuteRecord[], provisional: boolean): Promise<void> {
    if (this.fails) return Promise.reject(new Error("database or disk is full"));
    return super.add(records, provisional);
  }
}

function kept(history: FailingHistory, plan = USUAL_PLAN) {
  const said: string[] = [];
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const watch = new Watch({
    boat: UNKNOWN_BOAT,
    rules: [],
    busNames,
    onSignals: (_signals, _by, now) => keeper.follow(now),
  });
  let steady = 0;
  const clock = { steady: () => steady, wall: () => 0 };
  const listed = [{ name: SIGNAL, every: 1 }];
  const keeper = new HistoryKeeper({
    watch,
    history,
    clock,
    plan: { ...plan, listed },
    say: (sentence) => said.push(sentence),
  });
  return { watch, keeper, said, pass: (length: Micros) => steady += length };
}

async function follow(history: FailingHistory, onFrame: (i: number) => void = () => {}) {
  const { watch, keeper, said, pass } = kept(history);
  const steps = new ClockSteps();
  const source: FrameSource = {
    title: "can0",
    live: true,
    counts: emptyCounts(),
    problems: [],
    batches: () => frames(steps),
    stop: () => {},
  };
  let i = 0;
  for await (const batch of steadySource(source, steps).batches()) {
    watch.timeline.wallShift = steps.by;
    watch.feed(batch);
    onFrame(i++);
    pass(10 * SECOND);
    keeper.turn(watch.timeline.now);
    await new Promise<void>((resolve) => setImmediate(resolve));
  }
  await keeper.finish();
  return { watch, said };
}

/** Situation: a computer without a clock of its own; the time comes while the boat is watched. */
test("a clock that is set later moves what was kept before, once, and time runs on steadily", async () => {
  const history = new FailingHistory();
  const { watch } = await follow(history);
  expect(watch.timeline.now).toBe(BEGAN + 600 * SECOND);
  expect(watch.timeline.wallOf(watch.timeline.now)).toBe(TEN + 600 * SECOND);
  const first = minuteOf(TEN);
  const records = await history.records(SIGNAL, 0, first + 100);
  expect(records.map(({ minute }) => minute - first)).toEqual([
    -1,
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    7,
    8,
    9,
    10,
  ]);
  expect(records.reduce((sum, { count }) => sum + count, 0)).toBe(61);
  const sheets = await history.sheetsAfter(0, 99);
  expect(sheets.flatMap((sheet) => sheet.records)).toHaveLength(records.length);
});

test("a disk that fails for minutes costs no minute, and is told once in a while", async () => {
  const history = new FailingHistory();
  const { said } = await follow(history, (i) => history.fails = i > 20 && i < 40);
  const records = await history.records(SIGNAL, 0, minuteOf(TEN) + 100);
  expect(records.reduce((sum, { count }) => sum + count, 0)).toBe(61);
  expect(said.length).toBeGreaterThan(0);
  expect(said.length).toBeLessThan(10);
  expect(said[0]).toBe(
    "The history cannot be kept now (database or disk is full); it is tried again.",
  );
});
