import { describe, expect, test } from "vitest";
import { HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

const OIL = "engine/port/oil-pressure";
const SPEED = "engine/port/speed";
/** NIST SP 811, B.8. */
const PSI = 6894.757;

/** The curve of the diesel pack. */
const RULE = oneRule(
  "engine",
  `low: { signal: oil-pressure, setpoint: { along: speed, lowest-of: 3 s,
      curve: { 700 rpm: 10 psi, 1200 rpm: 15 psi, 1800 rpm: 25 psi, 2600 rpm: 30 psi } } }`,
);

const stateAt = (speed: number, psi: number) =>
  new HandMadeBoat(RULE).at(0, { [SPEED]: speed, [OIL]: psi * PSI }).alarms.statuses()[0].state;

describe("a rule with a limit along the engine's speed", () => {
  // Worked by hand: 950 lies half way from 700 to 1200, 1500 half way from 1200 to 1800, 2000 a
  // quarter of the way from 1800 to 2600; flat beyond both ends.
  test.each([
    [0, 10],
    [500, 10],
    [700, 10],
    [950, 12.5],
    [1200, 15],
    [1500, 20],
    [1800, 25],
    [2000, 26.25],
    [2600, 30],
    [4000, 30],
  ])("is raised just under the limit at %d rpm, %d psi, and not just over it", (speed, psi) => {
    expect(stateAt(speed, psi - 0.01)).toBe("unacknowledged");
    expect(stateAt(speed, psi + 0.01)).toBe("normal");
  });

  test("goes by the lowest speed of the last three seconds, to the microsecond", () => {
    // 20 psi are enough at 1,200 rpm and not at 2,600.
    const boat = new HandMadeBoat(RULE).at(0, { [SPEED]: 1200, [OIL]: 20 * PSI })
      .at(10, { [SPEED]: 2600 });
    boat.untilMicros(micros(13) - 1);
    expect(boat.story).toEqual([]);
    boat.until(20);
    expect(boat.story).toEqual(["13 it port unacknowledged"]);
  });

  test("follows a speed that falls at once", () => {
    const boat = new HandMadeBoat(RULE).at(0, { [SPEED]: 2600, [OIL]: 31 * PSI })
      .at(10, { [SPEED]: 700 }).at(10.1, { [OIL]: 12 * PSI });
    expect(boat.until(60).story).toEqual([]);
  });
});
