import { beforeAll, describe, expect, test } from "vitest";
import { between, numbers } from "../support/said-between.ts";
import { scenarioStory, type SignalStory } from "../support/signal-story.ts";

describe("situation 3: cranking pulls the bus to 8 V, and two devices come back swapped", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("cranking-resets-the-bus");
  });

  test("each engine is still the one it was", () => {
    expect(between(story, "engine/0/condition", 34)).toEqual(["idling"]);
    expect(between(story, "engine/1/condition", 34)).toEqual(["stopped"]);
    expect(story.watch.signals.contested()).toEqual([]);
  });

  test("and claims in another order are no conflict", () => {
    expect(between(story, "network/can0/address-conflicts", 0)).toEqual(["0"]);
  });
});

describe("situation 4: status words", () => {
  test("that are all ones say nothing on any bit", async () => {
    const story = await scenarioStory("status-words-not-available");
    const bits = [...story.said.keys()].filter((name) => name.startsWith("engine/0/status/"));
    expect(bits.length).toBeGreaterThan(20);
    for (const name of bits) {
      expect(new Set(between(story, name, 0).map((what) => what.split(" ")[0]))).toEqual(
        new Set(["bad"]),
      );
    }
  });

  test("that are all zeros are zeros, whatever the oil does", async () => {
    const story = await scenarioStory("status-words-zero");
    expect(between(story, "engine/0/status/low-oil-pressure", 0)).toEqual(["0"]);
    expect(Math.min(...numbers(between(story, "engine/0/oil-pressure", 100)))).toBeLessThan(50_000);
  });
});

test("situation 5: a sender that is not fitted is not available, and is no zero", async () => {
  const story = await scenarioStory("sender-fitted-later");
  expect(between(story, "engine/0/oil-pressure", 0, 119)).toEqual(["bad not-available"]);
  expect(between(story, "engine/0/oil-pressure", 121)).toEqual(["310300"]);
});

describe("situation 11: the date is 1,024 weeks old, the computer's clock began in 1970", () => {
  test("nothing old is believed; the truth is, after a minute", async () => {
    const story = await scenarioStory("receiver-date-wrong");
    expect(between(story, "computer/clock-offset", 0, 259)).toEqual(["bad not-available"]);
    // 20,600 days.
    expect(between(story, "computer/clock-offset", 262, 279)).toEqual(["1779840000"]);
    expect(story.said.get("computer/clock-offset")?.at(-1)?.[1]).toBe("0");
  });
});

describe("situation 12: a failing backbone", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("failing-backbone");
  });

  test("errors and losses are counted while the radio transmits, and not while it is quiet", () => {
    expect(Math.min(...numbers(between(story, "network/can0/error-frames", 122, 169))))
      .toBeGreaterThan(5);
    expect(Math.max(...numbers(between(story, "network/can0/lost-messages", 122, 169))))
      .toBeGreaterThan(0);
    expect(between(story, "network/can0/error-frames", 175, 239)).toEqual(["0"]);
  });

  test("no value is made of a message with a hole, or of two senders' frames", () => {
    const hours = ["engine/0/hours", "engine/1/hours"]
      .map((name) => numbers(between(story, name, 0)));
    for (const of of hours) expect(Math.max(...of) - Math.min(...of)).toBeLessThan(0.2);
    const volts = numbers(between(story, "engine/0/alternator-voltage", 60));
    expect(Math.min(...volts)).toBeGreaterThan(10);
    expect(Math.max(...volts)).toBeLessThan(16);
  });

  test("a charger message that comes as a single frame is malformed, not a fault", () => {
    expect(between(story, "charger/0/operating-state", 0)).toEqual([
      "not-charging",
      "bad not-heard",
    ]);
    expect(story.watch.assembler.counts.malformed).toBeGreaterThan(100);
  });
});
