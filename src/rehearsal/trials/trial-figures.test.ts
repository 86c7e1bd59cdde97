import { describe, expect, test } from "vitest";
import { boatWith, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import { TrialFigures, type TrialResult } from "./trial-figures.ts";
import { trialLines } from "./trial-lines.ts";
import type { Rang } from "./trip-result.ts";
import type { Trials } from "./trials.ts";

const BOAT = boatWith([
  { group: "engine", name: "port" },
  { group: "engine", name: "starboard" },
  { group: "battery", name: "house" },
]);

const rule = (tag: string, each: string, signal: string, setpoint: string) => `
  - tag: ${tag}
    title: A title
    each: ${each}
    low: { signal: ${signal}, setpoint: ${setpoint} }
    priority: alarm
    consequence: It breaks.
    response: { aboard: Stop it., ashore: Call. }`;

const RULES = rulesOf(
  `alarms:${rule("oil-low", "engine", "oil-pressure", "10 psi")}${
    rule("volts-low", "battery", "voltage", "12 V")
  }`,
);

const TRIALS: Trials = {
  trips: 6,
  seed: 1,
  chance: 0.5,
  aboard: [],
  faults: [
    { name: "oil-lost", toldBy: ["oil-low"], within: MINUTE, mayRing: ["volts-low"] },
    { name: "alternator-dead", toldBy: ["volts-low", "oil-low"], within: null, mayRing: [] },
    { name: "reading-noise", toldBy: [], within: null, mayRing: [] },
  ],
};

const rang = (tag: string, subject: string, seconds: number): Rang => ({
  tag,
  subject,
  at: seconds * SECOND,
});

/** Trips of half an hour each, whose faults begin after 100 s. */
function resultOf(
  trips: readonly (readonly [name: string | null, rang: readonly Rang[]])[],
): TrialResult {
  const figures = new TrialFigures(TRIALS, BOAT, RULES);
  for (const [name, all] of trips) {
    figures.take(
      { lasting: HOUR / 2, rang: all },
      name === null ? null : { name, subject: "port", began: 100 * SECOND },
    );
  }
  return figures.result;
}

const ofRule = ({ rules }: TrialResult, tag: string) => rules.find((one) => one.tag === tag);
const ofFault = ({ faults }: TrialResult, name: string) => faults.find((one) => one.name === name);

describe("figures of sea trials, counted by hand", () => {
  // Found after 4 s and 10 s, too late once, not at all once: 2 of 4.
  const four = resultOf([
    ["oil-lost", [rang("oil-low", "port", 104)]],
    ["oil-lost", [rang("oil-low", "port", 110), rang("oil-low", "port", 500)]],
    ["oil-lost", [rang("oil-low", "port", 161)]],
    ["oil-lost", []],
  ]);

  test("say how often a rule found its fault, and how soon", () => {
    expect(ofRule(four, "oil-low")).toMatchObject({
      of: 4,
      found: 2,
      delay: { median: 4 * SECOND, worst: 10 * SECOND },
      wrong: 0,
    });
    // Clopper and Pearson for 2 of 4: 0.0676 to 0.9324, from the closed form of the beta ends.
    const { from, to } = ofRule(four, "oil-low")?.share ?? { from: NaN, to: NaN };
    expect([from.toFixed(4), to.toFixed(4)]).toEqual(["0.0676", "0.9324"]);
  });

  test("count what rang for no reason, in a hundred hours", () => {
    const result = resultOf([
      [null, [rang("oil-low", "port", 20)]],
      [null, []],
      // Before the fault began, and of the engine that is well.
      ["oil-lost", [rang("oil-low", "port", 99), rang("oil-low", "starboard", 110)]],
      ["reading-noise", [rang("volts-low", "house", 300)]],
      // What may ring is not false.
      ["oil-lost", [rang("oil-low", "port", 101), rang("volts-low", "house", 120)]],
    ]);
    expect(result.hours).toBe(2.5);
    expect(ofRule(result, "oil-low")).toMatchObject({ of: 2, found: 1, wrong: 3 });
    expect(ofRule(result, "oil-low")?.wrongRate.rate).toBe(120);
    expect(ofRule(result, "volts-low")).toMatchObject({ wrong: 1 });
    expect([...ofFault(result, "oil-lost")?.wrong ?? []]).toEqual([["oil-low", 2]]);
    expect(ofFault(result, "reading-noise")).toMatchObject({ of: 1, isNuisance: true });
    expect(result.sound).toEqual({ trips: 2, wrong: new Map([["oil-low", 1]]) });
    expect(trialLines(result).at(-1)).toMatch(/^ {2}nothing +twice +oil-low$/);
  });

  test("of a fault go by the first rule that tells, whatever it is about", () => {
    const result = resultOf([
      // A battery may tell of an engine's alternator; the other engine may not.
      ["alternator-dead", [rang("oil-low", "starboard", 120), rang("volts-low", "house", 160)]],
      ["alternator-dead", [rang("oil-low", "port", 130), rang("volts-low", "house", 160)]],
    ]);
    expect(ofFault(result, "alternator-dead")).toMatchObject({
      of: 2,
      found: 2,
      delay: { median: 30 * SECOND, worst: 60 * SECOND },
    });
    expect(ofRule(result, "oil-low")).toMatchObject({ of: 2, found: 1, wrong: 1 });
  });

  test("are said with what cannot be known from so few", () => {
    const lines = trialLines(four);
    expect(lines[0]).toContain("4 trips, 2.0 hours in all.");
    expect(lines.join("\n")).toMatch(
      /oil-low +2 of 4, 50 % \(7 to 93\) +4 s +10 s +0 +0\.0 \(0\.0 to 184\.4\)/,
    );
    expect(lines.join("\n")).toMatch(/reading-noise +never drawn/);
  });
});
