import { describe, expect, test } from "vitest";
import { sayProblems } from "../../ground/problem-words.ts";
import { MINUTE } from "../../ground/time.ts";
import { readTrials } from "./read-trials.ts";
import { MOST_TRIPS, seedsOf } from "./trials.ts";

const NAMES = {
  tags: ["oil-pressure-low", "coolant-hot"],
  faults: ["oil-lost", "reading-noise"],
  boxes: ["exhaust-senders"],
};

function problemsOf(text: string): string {
  const { value, problems } = readTrials("trials.yaml", text, NAMES);
  expect(value).toBeUndefined();
  return sayProblems(problems, "no trip was made");
}

describe("a file of sea trials", () => {
  test("says how many trips, which faults, and who should tell of them", () => {
    const { value, problems } = readTrials(
      "trials.yaml",
      `
trips: 20
seed: 7
with-fault: 60 %
aboard: [exhaust-senders]
faults:
  oil-lost: { told-by: [oil-pressure-low], within: 1 min, may-ring: [not-watched] }
  reading-noise: {}
`,
      NAMES,
    );
    expect(problems).toEqual([]);
    expect(value).toEqual({
      trips: 20,
      seed: 7,
      chance: 0.6,
      aboard: ["exhaust-senders"],
      faults: [
        {
          name: "oil-lost",
          toldBy: ["oil-pressure-low"],
          within: MINUTE,
          mayRing: ["not-watched"],
        },
        { name: "reading-noise", toldBy: [], within: null, mayRing: [] },
      ],
    });
  });

  test("may be short: the seed is 1, and every trip has a fault", () => {
    const { value } = readTrials("trials.yaml", "trips: 2\nfaults: { oil-lost: {} }", NAMES);
    expect(value).toMatchObject({ trips: 2, seed: 1, chance: 1, aboard: [] });
  });

  test("is told of every name that nobody knows, with the nearest one, all at once", () => {
    const said = problemsOf(`trips: 2
aboard: [exhaust-sender]
faults:
  oil-last: { told-by: [coolant-hat] }
`);
    expect(said).toContain('trials.yaml:2:10: found "exhaust-sender", which the simulator');
    expect(said).toContain('did you mean "exhaust-senders"?');
    const { problems } = readTrials(
      "trials.yaml",
      "trips: 2\nfaults: { oil-last: { told-by: [coolant-hat] } }",
      NAMES,
    );
    expect(problems).toMatchObject([
      { kind: "unknown-name", found: "oil-last", nearest: "oil-lost" },
      { kind: "unknown-name", found: "coolant-hat", nearest: "coolant-hot" },
    ]);
  });

  test.each([
    ["trips: 0\nfaults: {}", "a whole number from 1"],
    ["trips: 2.5\nfaults: {}", "a whole number from 1"],
    ["trips: 2\nwith-fault: 140 %\nfaults: {}", "a share, such as 70 %"],
    ["trips: 2\nwith-fault: often\nfaults: {}", "a share, such as 70 %"],
    ["trips: 2\nfaults: { oil-lost: { within: soon } }", "expected"],
    ["trips: 2\nfaults: [oil-lost]", "faults by name"],
    ["trips: 2", '"faults"'],
    ["trips: 2\nfaults: {}\ntrip: 3", 'found "trip"'],
  ])("is refused for %j", (text, words) => {
    expect(problemsOf(text)).toContain(words);
  });

  test("names no tags where no rules are at hand", () => {
    const text = "trips: 2\nfaults: { oil-lost: { told-by: [anything] } }";
    expect(readTrials("trials.yaml", text, { ...NAMES, tags: null }).problems).toEqual([]);
  });
});

test("another seed gives other trips, each of them; the first one those that are published", () => {
  expect(seedsOf({ seed: 1, trips: 3 })).toEqual([1, 2, 3]);
  const first = seedsOf({ seed: 1, trips: MOST_TRIPS });
  expect(seedsOf({ seed: 2, trips: 200 }).filter((seed) => first.includes(seed))).toEqual([]);
  expect(seedsOf({ seed: 0, trips: 200 }).filter((seed) => first.includes(seed))).toEqual([]);
});
