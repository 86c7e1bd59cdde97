import { expect, test } from "vitest";
import type { AlarmChange } from "../../alarms/change.ts";
import { SECOND } from "../../ground/time.ts";
import { occurrencesOf } from "../occurrences.ts";
import { deedWords } from "./deed-words.ts";

function change(seconds: number, about: Partial<AlarmChange>): AlarmChange {
  return {
    tag: "fast",
    subject: "port",
    occurrence: 1,
    from: "unacknowledged",
    to: "unacknowledged",
    hold: "none",
    priority: "alarm",
    signal: "engine/port/speed",
    value: 0,
    unit: "1/min",
    setpoint: 0,
    time: seconds * SECOND,
    why: "",
    by: "",
    ...about,
  };
}

const raised = (seconds: number, about: Partial<AlarmChange> = {}) =>
  change(seconds, { from: "normal", ...about });

test("what people did about an alarm is said with who and when", () => {
  const changes = [
    raised(10),
    change(20, { hold: "shelved", by: "Ellen" }),
    change(25, { subject: "starboard", to: "acknowledged", by: "Tom" }),
    change(30, { by: "Tom" }),
    change(40, { to: "acknowledged", by: "Tom" }),
    change(50, { from: "acknowledged", to: "normal" }),
    raised(60, { occurrence: 2 }),
    change(70, { occurrence: 2, to: "acknowledged", by: "Ann" }),
  ];
  const [first, second] = occurrencesOf(changes).filter(({ subject }) => subject === "port");
  expect(deedWords(first, changes, 0)).toBe(
    "shelved by Ellen at 0:00:20, put back by Tom at 0:00:30, answered by Tom at 0:00:40",
  );
  expect(deedWords(second, changes, 0)).toBe("answered by Ann at 0:01:10");
});

test("what the rehearsal answers by itself is nobody's deed", () => {
  const changes = [raised(10), change(70, { to: "acknowledged", by: "rehearsal" })];
  expect(deedWords(occurrencesOf(changes)[0], changes, 0)).toBe("");
});
