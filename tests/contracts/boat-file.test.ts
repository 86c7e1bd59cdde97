import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { stringify } from "yaml";
import { describe, expect, test } from "vitest";
import { z } from "zod";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { boatFileSchema } from "../../src/boat/boat-file/schema.ts";
import { FLUIDS } from "../../src/boat/boat-file/tanks.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { isFault, sayProblems } from "../../src/ground/problem-words.ts";
import { TANK_ROWS } from "../../src/nmea2000/rows/tanks.ts";
import { expectGolden } from "../support/golden.ts";
import { casesIn } from "../support/golden-cases.ts";

const FOLDER = fileURLToPath(new URL("boat-file/", import.meta.url));

function read(path: string) {
  return readBoatFile("boat.yaml", readFileSync(`${FOLDER}${path}.yaml`, "utf8"));
}

describe("a sound boat file becomes the boat that it describes", () => {
  test.each(casesIn(`${FOLDER}sound`))("%s", (name) => {
    const { boat, problems } = read(`sound/${name}`);
    expect(problems.filter(isFault)).toEqual([]);
    expectGolden(`${FOLDER}sound/${name}.json`, `${JSON.stringify(boat, null, 2)}\n`);
  });

  test("and an empty one the boat about which nothing was said", () => {
    expect(readBoatFile("boat.yaml", "").boat).toEqual(UNKNOWN_BOAT);
  });
});

describe("a faulty boat file is explained", () => {
  test.each(casesIn(`${FOLDER}faulty`))("%s", (name) => {
    const { boat, problems } = read(`faulty/${name}`);
    expect(boat).toBeUndefined();
    const words = sayProblems(problems, "nothing was changed");
    expectGolden(`${FOLDER}faulty/${name}.txt`, `${words}\n`);
  });
});

describe("the boat file", () => {
  test("has a JSON Schema", () => {
    const schema = z.toJSONSchema(boatFileSchema, { io: "input" });
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });

  test("names fluids as their message does", () => {
    const fluid = TANK_ROWS[0].fields.find(({ name }) => name === "fluid");
    expect(fluid?.kind === "words" && Object.values(fluid.words)).toEqual(FLUIDS);
  });

  test("is read without a fault of the program, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const { boat, problems } = readBoatFile("boat.yaml", text);
      expect(boat === undefined).toBe(problems.some(isFault));
      sayProblems(problems, "nothing was changed");
    }));
  });

  test("is read without a fault of the program, whatever the YAML", { timeout: 60_000 }, () => {
    const names = fc.constantFrom(...Object.keys(boatFileSchema.shape), "port", "pump", "device");
    const texts = fc.constantFrom("12 V", "3..8 A", "house", "yes", "0", "°", "can0", "diesel");
    const leaf = fc.oneof(texts, fc.integer(), fc.boolean(), fc.constant(null), fc.string());
    const { whole } = fc.letrec<{ whole: unknown; group: unknown }>((tie) => ({
      whole: fc.oneof({ depthSize: "small" }, leaf, fc.array(leaf), tie("group")),
      group: fc.dictionary(fc.oneof(names, fc.string()), tie("whole"), { maxKeys: 5 }),
    }));
    fc.assert(fc.property(whole, (value) => {
      const { boat, problems } = readBoatFile("boat.yaml", stringify(value));
      expect(boat === undefined).toBe(problems.some(isFault));
    }));
  });

  test("is read without a fault of the program with any one line broken", { timeout: 60_000 }, () => {
    const whole = readFileSync(`${FOLDER}sound/whole.yaml`, "utf8").split("\n");
    fc.assert(fc.property(
      fc.nat(whole.length - 1),
      fc.string({ unit: "binary" }),
      fc.nat(40),
      (line, text, column) => {
        const broken = whole.with(
          line,
          whole[line].slice(0, column) + text + whole[line].slice(column),
        );
        const { boat, problems } = readBoatFile("boat.yaml", broken.join("\n"));
        expect(boat === undefined).toBe(problems.some(isFault));
      },
    ));
  });
});
