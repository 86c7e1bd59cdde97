import { expect, test } from "vitest";
import { highWater } from "../../../tests/support/high-water.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import { twoSendersRule } from "../../alarms/compile/two-senders.ts";
import { SECOND } from "../../ground/time.ts";
import type { RunRecord } from "../run-record.ts";
import { whyNotIn } from "./why-lines.ts";

const rule = { ...twoSendersRule("engine/port/speed"), tag: "low" };

function change(seconds: number, from: AlarmChange["from"], to: AlarmChange["to"]): AlarmChange {
  return highWater({ tag: "low", subject: "port", from, to, time: seconds * SECOND });
}

/** Why it did not come between 10 and 20 s. */
function whyNot(parts: Partial<RunRecord>): string | undefined {
  const figures = { title: "", priority: "alarm", least: null, reason: "" } as const;
  const run: RunRecord = {
    parts: [],
    begins: 0,
    ends: 60 * SECOND,
    changes: [],
    told: [],
    stood: [],
    clockSettings: [],
    doing: [],
    hidden: [],
    rules: [{ ...figures, tag: "low", subject: "port", standing: "judged" }],
    endedEarly: [],
    traces: null,
    ...parts,
  };
  const sought = { due: { from: 10 * SECOND, to: 20 * SECOND }, taken: [] };
  const say = (time: number) => `${time / SECOND} s`;
  return whyNotIn(run, rule, "port", { rules: [rule], owners: {} }, say, sought);
}

test("an alarm that stands already cannot come, and that is why it did not", () => {
  const changes = [change(5, "normal", "unacknowledged"), change(30, "unacknowledged", "normal")];
  expect(whyNot({ changes })).toBe("It stood already: it came at 5 s.");
  const stood = [change(0, "acknowledged", "acknowledged")];
  expect(whyNot({ stood })).toBe("It stood already when the run began.");
  expect(
    whyNot({
      changes: [change(5, "normal", "unacknowledged"), change(15, "acknowledged", "normal")],
    }),
  )
    .not.toContain("already");
});
