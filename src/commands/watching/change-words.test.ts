import { expect, test } from "vitest";
import type { AlarmChange } from "../../alarms/change.ts";
import { parseIsoTime } from "../../ground/time.ts";
import { highWater } from "../../../tests/support/high-water.ts";
import { changeWords } from "./change-words.ts";

const AT = { time: parseIsoTime("2026-06-14T10:01:20Z") ?? 0, why: "Why." };

test.each<[Partial<AlarmChange>, string]>([
  [{}, "EMERGENCY ALARM: High water, aft. Why."],
  [{ from: "unacknowledged", hold: "shelved", by: "Ellen" }, "Shelved: High water, aft. Why."],
  [{ from: "unacknowledged", by: "Ellen" }, "EMERGENCY ALARM: High water, aft. Why."],
  [{ from: "normal", to: "normal", by: "Ellen" }, "Put back: High water, aft. Why."],
  [
    { from: "unacknowledged", to: "acknowledged", by: "Ellen" },
    "Answered by Ellen: High water, aft. Why.",
  ],
  [
    { from: "unacknowledged", to: "acknowledged", by: "Ellen", why: "Answered by Ellen." },
    "Answered by Ellen: High water, aft.",
  ],
  [{ from: "acknowledged", to: "normal", subject: "boat" }, "Over: High water. Why."],
  [
    { tag: "not-watched", subject: "high-water--aft", priority: "caution", to: "acknowledged" },
    "New caution: High water, aft. Why.",
  ],
  [
    { tag: "not-watched", subject: "moved--boat", priority: "caution", to: "acknowledged" },
    "New caution: High water. Why.",
  ],
  [{ priority: "caution", to: "acknowledged" }, "New caution: High water, aft. Why."],
])("a change that is %j reads so", (change, words) => {
  expect(changeWords(highWater({ ...AT, ...change }), "High water"))
    .toBe(`2026-06-14 10:01:20 UTC  ${words}`);
});
