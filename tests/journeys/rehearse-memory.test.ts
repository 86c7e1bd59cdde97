import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { rehearse } from "../../src/commands/rehearse.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;

/** Usual is known after a fortieth of 200 minutes: five, and the recording has four. */
const RULES = `
alarms:
  - tag: volts-below-usual
    title: House bank below its usual
    each: battery
    only: [house]
    low: { signal: voltage, setpoint: { usual: 200 min, share: 90 % } }
    priority: warning
    consequence: The bank is tired.
    response: { aboard: Look at it., ashore: Have it looked at. }
  - tag: engine-turns
    title: An engine turns
    each: engine
    high: { signal: speed, setpoint: 500 rpm }
    priority: warning
    consequence: None.
    response: { aboard: None., ashore: None. }
`;

let folder: string;

beforeEach(async () => {
  folder = await Deno.makeTempDir();
  await Deno.writeTextFile(`${folder}/rules.yaml`, RULES);
  await Deno.copyFile(
    `${EXAMPLE}/recordings/oil-pressure-falls.log.gz`,
    `${folder}/trip.log.gz`,
  );
});
afterEach(() => Deno.remove(folder, { recursive: true }));

function rehearsed(...typed: string[]) {
  const setup = ["--boat", `${EXAMPLE}/boat.yaml`, "--rules", "rules.yaml"];
  return inside(rehearse, [...typed, ...setup], folder);
}

describe("rehearse --memory", () => {
  test("learns what is usual from one run to the next, and keeps it for the next time", async () => {
    const first = await rehearsed("trip.log.gz", "--memory", "usual.jsonl");
    expect(first.code).toBe(0);
    expect(first.out).toMatch(/never had what they need\n.*house/);
    const second = await rehearsed("trip.log.gz", "--memory", "usual.jsonl");
    expect(second.out).not.toContain("never had what they need");
    const both = await rehearsed("trip.log.gz", "trip.log.gz", "--memory", "other.jsonl");
    expect(both.out).toContain(second.out.trim());
    expect(await Deno.readTextFile(`${folder}/other.jsonl`))
      .toBe(await Deno.readTextFile(`${folder}/usual.jsonl`));
  });

  test("counts raisings on, and without it every run starts cold", async () => {
    const occurrences = (out: string) =>
      out.trim().split("\n").map((line): number => JSON.parse(line).occurrence);
    const cold = await rehearsed("trip.log.gz", "trip.log.gz", "--json");
    expect(Math.max(...occurrences(cold.out))).toBe(1);
    const on = await rehearsed("trip.log.gz", "trip.log.gz", "--json", "--memory", "m.jsonl");
    expect(Math.max(...occurrences(on.out))).toBe(2);
  });

  test("says of an alarm that the run before has left standing that it stands", async () => {
    const { out } = await rehearsed("trip.log.gz", "trip.log.gz", "--memory", "m.jsonl");
    const [first, second] = out.split("trip.log.gz: ").slice(1);
    // At the end of the trip an engine turns, at its beginning none.
    expect(first).not.toContain("from before");
    expect(second).toMatch(/0:00:00\.000 {2}warning: stands from before +An engine turns, star/);
    expect(second).toMatch(/engine-turns, starboard +stood from before, raised once/);
  });

  test("answers in the next run what was raised too late for it in the one before", async () => {
    const late = "high: { signal: voltage, setpoint: 1 V }\n    on-delay: 200 s";
    const rules = RULES.replace(/low: .*/, late);
    await Deno.writeTextFile(`${folder}/rules.yaml`, rules);
    const { out } = await rehearsed("trip.log.gz", "trip.log.gz", "--memory", "m.jsonl");
    const answered = /0:01:00\.000 {2}warning: answered by rehearsal {2}House bank/;
    const [first, second] = out.split("trip.log.gz: ").slice(1);
    expect(first).not.toMatch(answered);
    expect(second).toMatch(answered);
  });

  test("lets what is tried know what is usual too", async () => {
    await rehearsed("trip.log.gz", "--memory", "usual.jsonl");
    const sags = RULES.replace("share: 90 %", "share: 150 %");
    await Deno.writeTextFile(`${folder}/rules.yaml`, sags);
    const tried = ["--try", "volts-below-usual on-delay 0 to 10 s by 10"];
    const { out } = await rehearsed("trip.log.gz", "--memory", "usual.jsonl", ...tried);
    expect(out).toMatch(/volts-below-usual, house +raised once/);
    expect(out).toMatch(/\n {2}0 s +1 +as it is now\n {2}10 s +1\n/);
  });

  test("ends with 2 for a file that it did not write, and leaves it alone", async () => {
    await Deno.writeTextFile(`${folder}/notes.txt`, "remember the milk\n");
    const { code, error } = await rehearsed("trip.log.gz", "--memory", "notes.txt");
    expect(code).toBe(2);
    expect(error).toContain('notes.txt:1:1: found "remember the milk"');
    expect(await Deno.readTextFile(`${folder}/notes.txt`)).toBe("remember the milk\n");
  });
});
