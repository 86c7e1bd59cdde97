import { expect, test } from "vitest";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import { Watch } from "../../watch.ts";
import { NOON } from "../../../tests/support/told-boat.ts";
import { speedOf } from "../../../tests/support/speed-frame.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";
import { DayTrouble } from "./day-trouble.ts";

const RULES = `
alarms:
  - tag: too-fast
    title: Engine too fast
    each: engine
    high: { signal: speed, setpoint: 2600 rpm }
    priority: alarm
    consequence: It wears out.
    response: { aboard: Slow down., ashore: Call somebody. }
`;

/** An engine of this speed from one minute to another, looked at every second. */
function watched() {
  const rules = readRules("rules.yaml", RULES, KNOWN_QUANTITIES).value?.rules ?? [];
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules, busNames });
  const trouble = new DayTrouble(watch);
  const run = (from: number, to: number, speed: number | null) => {
    for (let at = NOON + from * MINUTE; at < NOON + to * MINUTE; at += SECOND) {
      if (speed === null) watch.advance(at);
      else watch.feed(speedOf(0, speed, at));
      trouble.look(at);
    }
  };
  return { watch, trouble, run };
}

test("an alarm is known to have stood for a day after it went", () => {
  const { watch, trouble, run } = watched();
  run(0, 10, 3000);
  watch.answer({ kind: "acknowledge", tag: "too-fast", subject: "0", occurrence: 1, who: "Tom" });
  run(10, 20, 1000);
  const { stood } = trouble.facts(NOON + 20 * MINUTE, NOON + HOUR);
  // By the wall as it is set now, which is not the one by which it stood.
  expect([...stood]).toEqual([["too-fast/0", NOON + 49 * MINUTE]]);
});

test("a rule that could not be judged for a while is remembered, and so is a silent bus", () => {
  const { trouble, run } = watched();
  run(0, 20, 1000);
  expect(trouble.facts(NOON, NOON).troubled).toBe(null);
  run(20, 30, null);
  run(30, 60, 1000);
  const now = NOON + 60 * MINUTE;
  expect(trouble.facts(now, now).troubled).toBe(NOON + 29 * MINUTE);
});
