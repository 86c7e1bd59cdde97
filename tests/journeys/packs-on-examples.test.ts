import { expect, test } from "vitest";
import { boatFrom, packsFor, recordingRaises } from "../support/pack-rehearsal.ts";
import { ROOT } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/examples/hazel-comfort`;
const BOAT = boatFrom(Deno.readTextFileSync(`${EXAMPLE}/boat.yaml`));

/** What each recording of the example holds, by its own story, and nothing else. */
const TOLD: Readonly<Record<string, readonly string[]>> = {
  "charger-fault": ["charger-in-fault shore"],
  "key-off": ["engine-not-heard starboard"],
  "oil-pressure-falls": ["oil-pressure-low port"],
};

test.each(Object.entries(TOLD))(
  "all packs together tell of %s what is wrong",
  async (name, told) => {
    const file = `${EXAMPLE}/recordings/${name}.log.gz`;
    const all = await recordingRaises(file, {
      boat: BOAT,
      rules: packsFor("diesel"),
      condition: "aboard",
    });
    expect(all.map(({ tag, subject }) => `${tag} ${subject}`)).toEqual(told);
  },
);
