import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { sternfast } from "../support/sternfast.ts";

const ruleOf = (tag: string, test: string) =>
  `  - tag: ${tag}
    title: ${tag}
    ${test}
    priority: alarm
    consequence: It breaks.
    response: { aboard: Stop it., ashore: Call. }
`;

const RULES = `alarms:
${ruleOf("oil-low", "each: engine\n    low: { signal: oil-pressure, setpoint: 10 psi }")}
${ruleOf("oil-hot", "each: engine\n    high: { signal: oil-temperature, setpoint: 120 °C }")}
${ruleOf("sea-cold", "low: { signal: sea/temperature, setpoint: 2 °C }")}`;

test("rules held against a recording are told that nothing sends what they need", async () => {
  const trip = new SpokenRecording().engine(0, 3, { speed: 2500, oil: 45 });
  const folder = ownFolder({ "trip.log": trip.text, "rules.yaml": RULES });
  const typed = ["check", "rules.yaml", "--heard", "trip.log"];
  const { out, error, code } = await sternfast(typed, { folder });
  // The message that brings oil pressure has a place for oil temperature, which is not filled.
  expect(error).toBe(
    'rules.yaml:10:10: "oil-hot" is never raised: engine oil-temperature is always sent as not ' +
      "available.\n" +
      'rules.yaml:18:10: "sea-cold" is never raised: nothing sends sea/temperature.\n',
  );
  expect(out).toBe("rules.yaml: a rule file without a mistake.\n");
  expect(code).toBe(0);
});

test("what has no end is no recording to hold rules against", async () => {
  const folder = ownFolder({ "rules.yaml": RULES });
  const typed = ["check", "rules.yaml", "--heard", "-"];
  const { error, code } = await sternfast(typed, { folder, input: "" });
  expect(error).toContain("--heard needs a recording");
  expect(code).toBe(2);
});

test("a file with nothing in it is called by that, since it could be any", async () => {
  const folder = ownFolder({ "notes.yaml": "# nothing yet\n" });
  const { out, code } = await sternfast(["check", "notes.yaml"], { folder });
  expect({ out, code }).toEqual({ out: "notes.yaml: there is nothing in it.\n", code: 0 });
});

test("a file that cannot be read keeps no other from being checked", async () => {
  const folder = ownFolder({ "rules.yaml": RULES });
  const { out, error, code } = await sternfast(["check", "bota.yaml", "rules.yaml"], { folder });
  expect({ out, error, code }).toEqual({
    out: "rules.yaml: a rule file without a mistake.\n",
    error: "bota.yaml cannot be read: there is no such file.\n",
    code: 2,
  });
});
