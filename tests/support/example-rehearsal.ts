import { fileURLToPath } from "node:url";
import { EXAMPLE_FOLDER } from "./example-recordings.ts";
import { rulesOf } from "./hand-made-boat.ts";
import { boatFrom, type Rehearsing } from "./pack-rehearsal.ts";

const folder = fileURLToPath(new URL(`../../${EXAMPLE_FOLDER}`, import.meta.url));

/** The example boat with her own rules, of which nobody has said who is aboard. */
export async function exampleRehearsal(): Promise<Rehearsing> {
  const boat = boatFrom(await Deno.readTextFile(`${folder}/boat.yaml`));
  const texts = await Promise.all(
    ["engines", "power", "bilges"].map((name) => Deno.readTextFile(`${folder}/rules/${name}.yaml`)),
  );
  return { boat, rules: texts.flatMap(rulesOf), condition: "left" };
}
