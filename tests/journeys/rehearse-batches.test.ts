import fc from "fast-check";
import { expect, test } from "vitest";
import { rehearse } from "../../src/commands/rehearse.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { openInput } from "../../src/bus/open-input.ts";
import { changeLine } from "../../src/formats/change-lines.ts";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { runsOf } from "../../src/rehearsal/run.ts";
import { Traces } from "../../src/rehearsal/traces.ts";
import { FrameTrial } from "../../src/rehearsal/trial.ts";
import { Watch } from "../../src/watch.ts";
import { EXAMPLE_FOLDER, EXAMPLE_RECORDINGS } from "../support/example-recordings.ts";
import { rulesOf } from "../support/hand-made-boat.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;
const { boat } = readBoatFile("boat.yaml", await Deno.readTextFile(`${EXAMPLE}/boat.yaml`));
const rules = (await Promise.all(
  ["bilges", "engines", "power"].map(async (name) =>
    rulesOf(await Deno.readTextFile(`${EXAMPLE}/rules/${name}.yaml`))
  ),
)).flat();

/** Everything that a rehearsal learns from a recording, as text. */
async function learnt(name: string, batchSize: number): Promise<{ all: string; lines: string }> {
  if (boat === undefined) throw new Error("the example boat is faulty");
  const busNames = new BusNames();
  const source = await openInput(`recordings/${name}.log.gz`, {
    buses: busNames,
    folder: EXAMPLE,
    batchSize,
  });
  const newTrial = () =>
    new FrameTrial(new Watch({ boat, rules, busNames }), boat.units, new Traces(rules));
  for await (const run of runsOf([source], newTrial)) {
    const record = run.follower.record(run);
    return { all: JSON.stringify(record), lines: record.changes.map(changeLine).join("\n") };
  }
  throw new Error("no frame was found");
}

test.each(Object.keys(EXAMPLE_RECORDINGS))(
  "%s brings the same bytes whatever the size of the batches",
  { timeout: 120_000 },
  async (name) => {
    const whole = await learnt(name, 100_000);
    const typed = [`recordings/${name}.log.gz`, "--json", "--answer", "never"];
    expect(`${whole.lines}\n`).toBe((await inside(rehearse, typed, EXAMPLE)).out);
    expect((await learnt(name, 1)).all).toBe(whole.all);
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 100_000 }), async (size) => {
        expect((await learnt(name, size)).all).toBe(whole.all);
      }),
      { numRuns: 6 },
    );
  },
);
