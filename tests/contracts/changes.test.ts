import { fileURLToPath } from "node:url";
import { test } from "vitest";
import { changeLine } from "../../src/formats/change-lines.ts";
import { expectGolden } from "../support/golden.ts";
import { RAISED } from "../support/mqtt-boat.ts";

const FILE = fileURLToPath(new URL("./changes.jsonl", import.meta.url));

/** A word in place of a number, and no limit. */
const WORD = {
  ...RAISED,
  tag: "charger-in-fault",
  subject: "shore",
  priority: "warning",
  signal: "charger/shore/operating-state",
  value: "fault",
  unit: "",
  setpoint: null,
  why: "Shore operating state read fault for 1 min.",
} as const;

test("each change of an alarm is a line of JSON, as run and rehearse print it", () => {
  const lines = [
    RAISED,
    { ...RAISED, from: RAISED.to, to: "acknowledged" as const, by: "Ellen", why: "Ellen answered." },
    WORD,
    { ...WORD, value: null, why: "Nothing was heard for 5 s." },
  ].map(changeLine);
  expectGolden(FILE, `${lines.join("\n")}\n`);
});
