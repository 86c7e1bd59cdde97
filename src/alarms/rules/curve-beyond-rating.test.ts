import { describe, expect, test } from "vitest";
import { boatWith, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { curveBeyondRating } from "./curve-beyond-rating.ts";

const PLACE = { file: "rules.yaml", line: 1, column: 1 };

const BOAT = boatWith([
  { group: "engine", name: "port", words: { fuel: "diesel" }, numbers: { "rated-speed": 2600 } },
  { group: "engine", name: "wing", words: { fuel: "petrol" }, numbers: { "rated-speed": 4400 } },
  { group: "engine", name: "centre" },
]);

function notices(curve: string, more = ""): string[] {
  const [rule] = rulesOf(`
alarms:
  - { tag: oil-low, title: Oil low, each: engine, priority: alarm, ${more}
      low: { signal: oil-pressure, setpoint: { along: speed, curve: { ${curve} } } } }
`);
  return curveBeyondRating(rule, BOAT, PLACE).map((one) => one.kind === "notice" ? one.note : "");
}

describe("a curve along an engine's speed", () => {
  test("that begins only above the rated speed of an engine is told of it", () => {
    expect(notices("2601 rpm: 10 psi, 4000 rpm: 20 psi")).toEqual([
      "judged by the first point of its curve alone: that begins at 2,601 rpm, and engine port is " +
      "rated 2,600 rpm",
    ]);
    expect(notices("26000 rpm: 30 psi, 7000 rpm: 10 psi")).toHaveLength(2);
  });

  test("that begins at or below it is not", () => {
    expect(notices("2600 rpm: 10 psi, 26000 rpm: 30 psi")).toEqual([]);
  });

  test("is held against the engines alone that its rule is about", () => {
    const curve = "3000 rpm: 10 psi, 4000 rpm: 20 psi";
    expect(notices(curve, "only: [wing],")).toEqual([]);
    expect(notices(curve, "where: { fuel: petrol },")).toEqual([]);
    expect(notices(curve, "where: { fuel: diesel },")).toHaveLength(1);
  });
});
