import { execFileSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { distanceBetween, type Point } from "../../src/alarms/measures/distance-from.ts";
import { needs } from "../support/needs.ts";

type Case = [string, Point, Point, number];

/**
 * Metres on WGS 84. Worked out with GeodSolve of GeographicLib 2.1.2 (C++), except the second, which
 * is a line of the GeodTest set (doi 10.5281/zenodo.32156).
 */
const CASES: Case[] = [
  ["across an ocean", at(40.6, -73.8), at(51.6, -0.5), 5_551_759.400319],
  [
    "across the equator",
    at(35.60777, -139.44815),
    at(-11.17491, -69.95921),
    8_935_244.5604818305,
  ],
  ["across the date line", at(-16.5, 179.9995), at(-16.5, -179.9995), 106.764155],
  ["a minute of longitude at the equator", at(0, 0), at(0, 1 / 60), 1855.324847],
  ["50 m east of a mooring", at(50.75, -1.3), at(50.74999999784807, -1.29929152618021), 50],
  ["50 m north of a mooring", at(50.75, -1.3), at(50.75044946450395, -1.3), 50],
  ["a ten-thousandth of a degree of latitude", at(50.74995, -1.3), at(50.75005, -1.3), 11.124349],
];

function at(latitude: number, longitude: number): Point {
  return { latitude, longitude };
}

describe("distances for a boat that has moved", () => {
  test.each(CASES)("%s", (_, one, other, metres) => {
    expect(distanceBetween(one, other)).toBeCloseTo(metres, 5);
    expect(distanceBetween(other, one)).toBeCloseTo(metres, 5);
  });
});

needs("geodesics")("distances against GeodSolve, an independent program", () => {
  test("agree to a hundredth of a millimetre", () => {
    const lines = CASES.map(([, one, other]) =>
      [one.latitude, one.longitude, other.latitude, other.longitude].join(" ")
    );
    const said = execFileSync("GeodSolve", ["-i", "-p", "6"], { input: lines.join("\n") });
    const metres = said.toString().trim().split("\n").map((line) => Number(line.split(" ")[2]));
    CASES.forEach(([, one, other], i) => {
      expect(distanceBetween(one, other)).toBeCloseTo(metres[i], 5);
    });
  });
});
