import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stringify } from "yaml";
import { z } from "zod";
import { rehearse } from "../../src/commands/rehearse.ts";
import { isFault, sayProblems } from "../../src/ground/problem-words.ts";
import { answersFileSchema } from "../../src/rehearsal/answers/answers-schema.ts";
import { expectationFileSchema } from "../../src/rehearsal/expectations/expectation-schema.ts";
import { readExpectations } from "../../src/rehearsal/expectations/read-expectations.ts";
import { EXAMPLE_FOLDER, EXAMPLE_RECORDINGS } from "../support/example-recordings.ts";
import { expectGolden } from "../support/golden.ts";
import { casesIn } from "../support/golden-cases.ts";
import { boatWith, KNOWN, rulesOf } from "../support/hand-made-boat.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const FOLDER = fileURLToPath(new URL("rehearsal/", import.meta.url));
const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;

const RULES = rulesOf(`
alarms:
  - { tag: oil-pressure-low, title: Oil, each: engine, priority: alarm, low: { signal: oil-pressure, setpoint: 10 psi } }
  - { tag: coolant-temperature-high, title: Coolant, each: engine, priority: warning, high: { signal: coolant-temperature, setpoint: 95 °C } }
  - { tag: charger-in-fault, title: Charger, each: charger, priority: warning, reads: { signal: operating-state, one-of: [fault] } }
  - { tag: port-only, title: Port, each: engine, only: [port], priority: warning, high: { signal: speed, setpoint: 900 rpm } }
  - { tag: petrol-only, title: Petrol, each: engine, where: { fuel: petrol }, priority: warning, high: { signal: speed, setpoint: 900 rpm } }
  - { tag: no-word, title: No word, priority: warning, not-heard: { signal: position/latitude } }
`);

const NAMES = {
  rules: RULES,
  boat: boatWith([
    { group: "engine", name: "port" },
    { group: "engine", name: "starboard", words: { fuel: "diesel" } },
  ]),
  catalogue: KNOWN,
};

function read(path: string) {
  const text = readFileSync(`${FOLDER}${path}.yaml`, "utf8");
  return readExpectations("start1.expect.yaml", text, NAMES);
}

describe("sound expectations become what a recording is held against", () => {
  test.each(casesIn(`${FOLDER}sound`))("%s", (name) => {
    const { value, problems } = read(`sound/${name}`);
    expect(problems).toEqual([]);
    // Of the rule that finds a mark only the test is its own.
    const marks = value?.marks.map((mark) => ({ ...mark, rule: mark.rule.test }));
    const text = JSON.stringify({ ...value, marks }, null, 2);
    expectGolden(`${FOLDER}sound/${name}.json`, `${text}\n`);
  });
});

describe("faulty expectations are explained", () => {
  test.each(casesIn(`${FOLDER}faulty`))("%s", (name) => {
    const { value, problems } = read(`faulty/${name}`);
    expect(value).toBeUndefined();
    const words = sayProblems(problems, "nothing was rehearsed");
    expectGolden(`${FOLDER}faulty/${name}.txt`, `${words}\n`);
  });
});

describe("expectations", () => {
  test("have a JSON Schema", () => {
    const schema = z.toJSONSchema(expectationFileSchema, { io: "input" });
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });

  test("are read without a fault of the program, whatever the YAML", { timeout: 60_000 }, () => {
    const names = fc.constantFrom("marks", "expect", "never", "alarm", "raised", "signal", "first");
    const texts = fc.constantFrom("0:14:00", "started + 3 s", "over 5 psi", "no-word", "yes", "-");
    const leaf = fc.oneof(texts, fc.integer(), fc.boolean(), fc.constant(null), fc.string());
    const { whole } = fc.letrec<{ whole: unknown; group: unknown }>((tie) => ({
      whole: fc.oneof({ depthSize: "small" }, leaf, fc.array(tie("whole")), tie("group")),
      group: fc.dictionary(fc.oneof(names, fc.string()), tie("whole"), { maxKeys: 5 }),
    }));
    fc.assert(fc.property(fc.oneof(whole, fc.string()), (value) => {
      const { value: read, problems } = readExpectations("x.yaml", stringify(value), NAMES);
      expect(read === undefined).toBe(problems.some(isFault));
      sayProblems(problems, "nothing was rehearsed");
    }));
  });
});

test("a file of answers has a JSON Schema", () => {
  const schema = z.toJSONSchema(answersFileSchema, { io: "input" });
  expectGolden(`${FOLDER}answers.schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
});

describe("a rehearsal of the example boat", () => {
  test.each(Object.keys(EXAMPLE_RECORDINGS))("says what %s brought", async (name) => {
    const { code, out, error } = await inside(rehearse, [`recordings/${name}.log.gz`], EXAMPLE);
    expect(error).toBe("");
    expect(code).toBe(0);
    expectGolden(`${FOLDER}${name}.txt`, out);
  });

  test.each(Object.keys(EXAMPLE_RECORDINGS))("prints %s for programs", async (name) => {
    const typed = [`recordings/${name}.log.gz`, "--json", "--answer", "never"];
    const { code, out, error } = await inside(rehearse, typed, EXAMPLE);
    expect(error).toMatch(/^Expectations \(.*\): they hold/);
    expect(code).toBe(0);
    expectGolden(`${FOLDER}${name}.jsonl`, out);
  });

  test.each([
    [[], "Interrupted: a run that was not over was not judged.\n"],
    [
      ["--report", "r.html", "--memory", "m.jsonl"],
      "Interrupted: a run that was not over was not judged; no report and no memory was written.\n",
    ],
  ])("says what an interrupt leaves undone, with %j", async (more, said) => {
    const typed = ["recordings/key-off.log.gz", ...more];
    const { error } = await inside(rehearse, typed, EXAMPLE, AbortSignal.abort());
    expect(error).toBe(said);
  });

  test("says how many trips an interrupt has let be made", async () => {
    const typed = ["--trials", "trials.yaml"];
    const { error } = await inside(rehearse, typed, `${ROOT}/examples/sea-trials`, AbortSignal.abort());
    expect(error).toBe("Interrupted: 0 of 200 trips were made.\n");
  });

  test("says why an alarm did not come", async () => {
    const asked = ["start-voltage-low", "coolant-temperature-high", "high-water", "house-charge-low"];
    const typed = ["recordings/oil-pressure-falls.log.gz", ...asked.flatMap((tag) => ["--why", tag])];
    const { out } = await inside(rehearse, typed, EXAMPLE);
    const lines = out.split("\n").filter((line) => line.startsWith("'"));
    expectGolden(`${FOLDER}why.txt`, `${lines.join("\n")}\n`);
    const asData = await inside(rehearse, [...typed, "--json"], EXAMPLE);
    expect(asData.out).not.toContain("did not come");
    expect(asData.error.split("\n")).toEqual(expect.arrayContaining(lines));
  });

  test("says what kept an alarm back, and what people did about each", async () => {
    const folder = `${FOLDER}kept-back`;
    const asked = ["fast", "oil-falling", "hurried"].flatMap((tag) => ["--why", tag]);
    const typed = ["simulator:oil-lost-under-load", "--answer", "answers.yaml", ...asked];
    const { out, error } = await inside(rehearse, typed, folder);
    expect(error).toBe("");
    expectGolden(`${folder}/told.txt`, out);
  });

  test("says of what two devices send that it could not be judged", async () => {
    const typed = ["simulator:two-gateways-one-instance", "--why", "oil-pressure-low-under-load"];
    const { out } = await inside(rehearse, typed, EXAMPLE);
    expect(out).toMatch(/, port, did not come\. It could not be judged: \S+ comes from two senders\./);
  });

  test("tries one number of a rule at several values and recommends the flat middle", { timeout: 60_000 }, async () => {
    const sweeps = [
      "oil-pressure-low-under-load shift -8 to 8 psi by 4",
      "oil-pressure-low-under-load on-delay 0 to 20 s by 2",
      "engine-sender-lost on-delay 5 to 45 s by 10",
      "charger-in-fault on-delay 70 to 90 s by 10",
      "charger-in-fault on-delay 0 to 300 s by 40",
      "engine-over-speed setpoint 80 to 110 % of rated-speed by 10",
      "start-voltage-low setpoint 11.0 to 11.4 V per 12 V by 0.2",
      "house-voltage-low setpoint 12.9 to 13.4 V by 0.1",
    ];
    const typed = ["recordings", ...sweeps.flatMap((text) => ["--try", text])];
    const { out } = await inside(rehearse, typed, EXAMPLE);
    expectGolden(`${FOLDER}tried.txt`, out.slice(out.indexOf("Tried: ")));
  });

  test("recommends nothing for a rule that never judged", async () => {
    const typed = ["recordings/charger-fault.log.gz", "--try", "coolant-temperature-high setpoint 90 to 95 °C by 5"];
    const { out } = await inside(rehearse, typed, EXAMPLE);
    expect(out).toContain(
      "Nothing is recommended: the rule was at work in no recording; it was never watching.",
    );
  });

  test.each([
    "oil-pressure-low-under-load setpoint 8 to 16 psi by 1",
    "oil-pressure-low-under-laod shift 8 to 16 psi by 1",
    "charger-in-fault setpoint 8 to 16 psi by 1",
    "house-voltage-low at-least 2 to 6 by 1",
    "house-voltage-low setpiont 12 to 13 V by 0.1",
    "house-voltage-low setpoint 12 to 13 psi by 0.1",
    "house-voltage-low setpoint 12 to 13 V per 24 V by 0.1",
    "engine-over-speed setpoint 2000 to 2300 rpm by 100",
    "house-voltage-low setpoint 13 to 12 V by 0.1",
    "house-voltage-low on-delay 1 to 5 V by 1",
    "house-voltage-low 12 to 13 V",
    "house-voltage-low setpoint 1 to 13 V by 0.01",
    "house-voltage-low setpoint 12 to 13 V by 0",
  ])("refuses to try %s", async (text) => {
    const { code, error } = await inside(rehearse, ["recordings", "--try", text], EXAMPLE);
    expect(code).toBe(2);
    expectGolden(`${FOLDER}refused/${text.replaceAll(/[^a-z0-9]+/g, "-")}.txt`, error);
  });

  test.each(["--report", "--memory"])("says at once that there is no folder for its %s", async (option) => {
    const { code, out, error } = await inside(rehearse, ["recordings", option, "no/file"], EXAMPLE);
    expect([code, out]).toEqual([2, ""]);
    expect(error).toBe(`${option}: there is no folder no; nothing was rehearsed.\n`);
  });

  test("measures the alarm system over all recordings", { timeout: 60_000 }, async () => {
    const { out } = await inside(rehearse, ["recordings", "--health"], EXAMPLE);
    expectGolden(`${FOLDER}health.txt`, out.slice(out.indexOf("The alarm system")));
  });

  test("gives what was tried and the health as data, after the changes", { timeout: 60_000 }, async () => {
    const tried = "oil-pressure-low-under-load on-delay 0 to 20 s by 10";
    const typed = ["recordings", "--json", "--health", "--try", tried];
    const { out, error } = await inside(rehearse, typed, EXAMPLE);
    const results = out.trimEnd().split("\n").filter((line) => !("tag" in JSON.parse(line)));
    expect(out.endsWith(`${results.join("\n")}\n`)).toBe(true);
    expectGolden(`${FOLDER}results.jsonl`, `${results.join("\n")}\n`);
    expect(error).not.toContain("Tried: ");
    expect(error).not.toContain("The alarm system");
  });

  test("knows no rule by a wrong tag, and says which was meant", async () => {
    const typed = ["recordings/key-off.log.gz", "--why", "hihg-water"];
    const { code, error } = await inside(rehearse, typed, EXAMPLE);
    expect(error).toBe(
      '--why: found "hihg-water", which this set of rules does not know; did you mean ' +
        '"high-water"?\n',
    );
    expect(code).toBe(2);
  });

  describe("that does not bring what was expected says what it brought instead", () => {
    test.each(casesIn(`${FOLDER}misses`))("%s", async (name) => {
      const folder = await Deno.makeTempDir();
      try {
        await Deno.copyFile(`${EXAMPLE}/recordings/oil-pressure-falls.log.gz`, `${folder}/trip.log.gz`);
        await Deno.copyFile(`${FOLDER}misses/${name}.yaml`, `${folder}/trip.expect.yaml`);
        const typed = ["trip.log.gz", "--settings", `${EXAMPLE}/sternfast.yaml`, "--json"];
        const { code, error } = await inside(rehearse, typed, folder);
        expect(code).toBe(1);
        expectGolden(`${FOLDER}misses/${name}.txt`, error);
      } finally {
        await Deno.remove(folder, { recursive: true });
      }
    });
  });
});
