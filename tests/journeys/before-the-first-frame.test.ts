import { describe, expect, test } from "vitest";
import type { AlarmRecord } from "../../src/alarms/alarm-record.ts";
import type { Answer } from "../../src/alarms/answer.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { DAY, type Micros, MINUTE, SECOND } from "../../src/ground/time.ts";
import { Watch } from "../../src/watch.ts";
import { rulesOf } from "../support/hand-made-boat.ts";
import { speedOf } from "../support/speed-frame.ts";
import { MORNING } from "../support/talking-boat.ts";

const RULES = rulesOf(`
alarms:
  - { tag: fast, title: Fast, each: engine, priority: warning, re-alarm: 30 min,
      high: { signal: speed, setpoint: 2000 rpm } }
  - { tag: starts, title: Starts, each: engine, priority: warning,
      count: { starts-of: { signal: speed, over: 500 rpm }, within: 1 h, rest: 1 s, at-least: 3 } }
`);
const FAST = { tag: "fast", subject: "0", occurrence: 1, who: "Ann" } as const;

function watchWith(memory: readonly AlarmRecord[] = []): Watch {
  const busNames = new BusNames();
  busNames.numberOf("can0");
  return new Watch({ boat: UNKNOWN_BOAT, rules: RULES, busNames, memory });
}

/** The engine turns so fast from then on, heard each second. */
function run(watch: Watch, from: Micros, seconds: number, speed: number): void {
  for (let second = 0; second < seconds; second++) {
    watch.feed(speedOf(0, speed, from + second * SECOND));
  }
}

/** What a program keeps that was killed some seconds after an engine ran too fast and was answered. */
function kept(answer: Answer): readonly AlarmRecord[] {
  const watch = watchWith();
  run(watch, MORNING, 3, 3000);
  expect(watch.answer(answer)).toEqual({ accepted: true });
  return watch.alarms.memory(watch.timeline.now);
}

/** As `run` does while a gateway has not spoken yet. */
function isBusyBeforehand(watch: Watch): void {
  watch.noteProofsDue(0);
  watch.noteRulesRefused(true);
  watch.setCondition("left");
  watch.setRules(RULES.map((rule) => ({ ...rule })));
}

const stateOf = (watch: Watch) => {
  const status = watch.alarms.statuses().find(({ tag }) => tag === "fast");
  return [status?.state, status?.hold];
};
const LATER = MORNING + DAY;

describe("before a bus is heard for the first time after a restart", () => {
  test("no time passes: what is left of a hold is left of it still", () => {
    const watch = watchWith(kept({ ...FAST, kind: "shelve", length: MINUTE }));
    isBusyBeforehand(watch);
    expect(watch.alarms.hasUnkept).toBe(false);
    run(watch, LATER, 59, 3000);
    expect(stateOf(watch)).toEqual(["unacknowledged", "shelved"]);
    // Until when is known now, and is told.
    expect(watch.alarms.statuses()[0].heldUntil).toBe(LATER + MINUTE);
    expect(watch.alarms.hasUnkept).toBe(true);
    run(watch, LATER + 59 * SECOND, 3, 3000);
    expect(stateOf(watch)).toEqual(["unacknowledged", "none"]);
  });

  test("nor of what was counted, or of the time after which an alarm asks again", () => {
    const begun = watchWith();
    for (const minute of [0, 1]) {
      run(begun, MORNING + minute * MINUTE, 5, 0);
      run(begun, MORNING + minute * MINUTE + 5 * SECOND, 5, 3000);
    }
    expect(begun.answer({ ...FAST, occurrence: 2, kind: "acknowledge" })).toEqual({
      accepted: true,
    });
    const watch = watchWith(begun.alarms.memory(begun.timeline.now));
    isBusyBeforehand(watch);
    run(watch, LATER, 5, 3000);
    expect(stateOf(watch)).toEqual(["acknowledged", "none"]);
    run(watch, LATER + 5 * SECOND, 5, 0);
    run(watch, LATER + 10 * SECOND, 5, 3000);
    expect(watch.takeChanges()).toContainEqual(
      expect.objectContaining({ tag: "starts", to: "unacknowledged", value: 3 }),
    );
  });

  test("what a person answers meanwhile is kept, and bears the time of the computer", () => {
    const memory = kept({ ...FAST, kind: "shelve", length: MINUTE });
    const watch = watchWith(memory);
    isBusyBeforehand(watch);
    watch.timeline.wallBefore = LATER - MINUTE;
    expect(watch.answer({ ...FAST, kind: "acknowledge" })).toEqual({ accepted: true });
    expect(watch.takeChanges()).toMatchObject([{ to: "acknowledged", time: LATER - MINUTE }]);
    run(watch, LATER, 59, 3000);
    expect(stateOf(watch)).toEqual(["acknowledged", "shelved"]);
    expect(watch.alarms.memory(watch.timeline.now)).toContainEqual(
      expect.objectContaining({ tag: "fast", state: "acknowledged" }),
    );
  });

  test("an alarm that is put aside then stays so for as long as was asked", () => {
    const watch = watchWith(kept({ ...FAST, kind: "acknowledge" }));
    isBusyBeforehand(watch);
    expect(watch.answer({ ...FAST, kind: "shelve", length: MINUTE })).toEqual({ accepted: true });
    run(watch, LATER, 59, 3000);
    expect(stateOf(watch)).toEqual(["acknowledged", "shelved"]);
    run(watch, LATER + 59 * SECOND, 3, 3000);
    expect(stateOf(watch)).toEqual(["unacknowledged", "none"]);
  });

  test("nothing is raised: a caution about the rule files has the time of the first frame", () => {
    const watch = watchWith();
    isBusyBeforehand(watch);
    expect(watch.hasChanges).toBe(false);
    run(watch, LATER, 1, 1000);
    expect(watch.takeChanges()).toMatchObject([{ tag: "rules-refused", time: LATER }]);
  });
});
