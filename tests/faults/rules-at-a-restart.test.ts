import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { sternfast } from "../support/sternfast.ts";

const TRIP = new SpokenRecording().engine(0, 20, { speed: 2500, oil: 5 });
const ruleOf = (setpoint: string) =>
  `alarms:
  - tag: oil-low
    title: Oil low
    each: engine
    low: { signal: oil-pressure, setpoint: ${setpoint} }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call. }
`;
const typed = ["run", "trip.log", "--rules", "rules", "--state", "state"];

test("a rule file that was spoiled leaves the rules in force that were accepted last", async () => {
  const folder = ownFolder({ "trip.log": TRIP.text, "rules/oil.yaml": ruleOf("10 psi") });
  const first = await sternfast(typed, { folder });
  expect(first.out).toContain("ALARM: Oil low, 0.");

  Deno.writeTextFileSync(`${folder}/rules/oil.yaml`, ruleOf("10 V"));
  const later = new SpokenRecording(TRIP.begins + 3_600_000_000).engine(0, 20, {
    speed: 0,
    oil: 45,
  });
  Deno.writeTextFileSync(`${folder}/trip.log`, later.text);
  const second = await sternfast(typed, { folder });
  expect(second.error).toMatch(
    /^rules\/oil\.yaml:5:\d+: .*The rules that were accepted last stay in force\.\n/,
  );
  // The alarm that was raised before goes on by its old rule.
  expect(second.out).toContain("Over, not yet answered: Oil low, 0.");
  expect(second.code).toBe(0);
});

test("a rule file that was dropped does not come back with a later mistake", async () => {
  const folder = ownFolder({
    "trip.log": TRIP.text,
    "rules/oil.yaml": ruleOf("10 psi"),
    "rules/other.yaml": ruleOf("10 psi").replaceAll("oil-low", "oil-lower"),
  });
  await sternfast(typed, { folder });
  Deno.removeSync(`${folder}/rules/other.yaml`);
  await sternfast(typed, { folder });
  Deno.writeTextFileSync(`${folder}/rules/oil.yaml`, ruleOf("10 V"));
  const { error, code } = await sternfast([...typed, "--json"], { folder });
  expect(error).toContain("stay in force");
  // The rule that is left, and the caution about the mistake.
  expect(error).toMatch(/ · 2 alarms$/m);
  expect(code).toBe(0);
});

test("where no rules were accepted before there is nothing to fall back on", async () => {
  const folder = ownFolder({ "trip.log": TRIP.text, "rules/oil.yaml": ruleOf("10 V") });
  const { error, code } = await sternfast(typed, { folder });
  expect(error).toContain("No rule of this set was used.");
  expect(code).toBe(2);
});
