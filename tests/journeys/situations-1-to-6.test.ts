import { beforeAll, describe, expect, test } from "vitest";
import { subjectLines } from "../../src/outputs/page/signal-lines.ts";
import { between, numbers } from "../support/said-between.ts";
import { cruiser } from "../support/cruiser.ts";
import { packsFor } from "../support/pack-rehearsal.ts";
import { rings, secondsOf, tags } from "../support/rings.ts";
import { scenarioStory, type SignalStory, spokenStory } from "../support/signal-story.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

/** The twelve nasty situations, each under its number, with all packs as they are shipped. */
const DIESEL = { rules: packsFor("diesel"), condition: "aboard" } as const;
const PETROL = { rules: packsFor("petrol"), condition: "aboard" } as const;

describe("1. two engine gateways both at instance 0, 3,000 and 700 rpm alternating", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("two-gateways-one-instance", cruiser({ fuel: "petrol" }), PETROL);
  });

  test("no averaging, no alternating, no fail-over: one gateway's value, uncertain", () => {
    const speeds = between(story, "engine/port/speed", 100);
    expect(speeds.every((what) => what.endsWith("uncertain two-senders"))).toBe(true);
    const all = speeds.map((what) => Number.parseFloat(what));
    expect(Math.max(...all) - Math.min(...all)).toBeLessThan(100);
  });

  test("one caution that names both devices", () => {
    expect(tags(story.changes)).toEqual(["two-senders engine-port acknowledged"]);
    expect(story.changes[0].why).toMatch(/address 16 .+ and .+ address 17 /);
  });

  test("no over-speed, no low oil", () => {
    expect(rings(story)).toEqual([]);
  });
});

describe("2. key-off: last frame 650 rpm and 40 psi, then nothing", () => {
  const silence = (speed: number) =>
    new SpokenRecording().engine(0, 60, { speed, oil: 40 }).battery(60, 200);

  test("stopped (presumed) within 3 s of the last frame, and no alarm", async () => {
    const story = await spokenStory(silence(650), cruiser(), DIESEL);
    const presumed = story.said.get("engine/port/condition")
      ?.find(([, what]) => what === "stopped-presumed");
    expect(presumed?.[0]).toBe(59_900 + 3_000);
    expect(rings(story)).toEqual([]);
  });

  test("nor where the gateway goes on with 'not available'", async () => {
    const goesOn = new SpokenRecording().engine(0, 60, { speed: 650, oil: 40 })
      .engine(60, 240, { speed: null });
    const story = await spokenStory(goesOn, cruiser(), DIESEL);
    expect(between(story, "engine/port/condition", 63)).toEqual(["stopped-presumed"]);
    expect(tags(story.changes)).toEqual([]);
  });

  test("the same at 3,000 rpm is a warning after 5 s", async () => {
    const story = await spokenStory(silence(3000), cruiser({ fuel: "petrol" }), PETROL);
    expect(tags(rings(story))).toEqual(["engine-not-heard port unacknowledged"]);
    expect(rings(story)[0].priority).toBe("warning");
    expect(secondsOf(story, rings(story)[0])).toBeCloseTo(59.9 + 5, 2);
  });
});

describe("3. cranking pulls the bus to 8 V, and two devices come back at each other's address", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("cranking-resets-the-bus", cruiser(), DIESEL);
  });

  test("every device is not available for 4 s, and identities follow the NAME", () => {
    expect(between(story, "engine/port/speed", 25.5, 30)).toContain("bad not-available");
    expect(between(story, "engine/port/condition", 34)).toEqual(["idling"]);
    expect(between(story, "engine/starboard/condition", 34)).toEqual(["stopped"]);
    expect(story.watch.signals.contested()).toEqual([]);
  });

  test("no not-heard, conflict or low-voltage alarm: nothing is told at all", () => {
    expect(between(story, "network/main/address-conflicts", 0)).toEqual(["0"]);
    expect(Math.min(...numbers(between(story, "battery/start/voltage", 20, 30)))).toBeLessThan(9);
    expect(tags(story.changes)).toEqual([]);
  });
});

describe("4. status words FFFF; another gateway sends 0 with the low-oil sender unplugged", () => {
  test("FFFF: all bits bad, nothing raised, and what is not watched is said", async () => {
    const story = await scenarioStory("status-words-not-available", cruiser(), DIESEL);
    const bits = [...story.said.keys()].filter((name) => name.startsWith("engine/port/status/"));
    expect(bits.length).toBeGreaterThan(20);
    for (const name of bits) {
      for (const what of between(story, name, 0)) expect(what, name).toMatch(/^bad /);
    }
    expect(rings(story)).toEqual([]);
    expect(new Set(story.changes.map(({ tag }) => tag))).toEqual(new Set(["not-watched"]));
  });

  test("0 is shown as 'nothing reported', not as healthy, and the pressure rings all the same", async () => {
    const story = await scenarioStory("status-words-zero", cruiser(), DIESEL);
    const port = subjectLines(story.watch.signals.table, {}, (steady) => steady)
      .find(({ title }) => title === "Port engine");
    const line = port?.signals.find(({ name }) => name === "Status");
    expect(line).toMatchObject({ value: { number: "nothing reported" }, remark: "" });
    expect(tags(rings(story))).toEqual(["oil-pressure-low port unacknowledged"]);
  });
});

test("4. status words with the low-oil bit set raise its alarm", async () => {
  const lit = new SpokenRecording().engine(0, 60, { speed: 650, oil: 40, status: [] })
    .engine(60, 70, { speed: 650, oil: 40, status: ["low-oil-pressure"] });
  const story = await spokenStory(lit, cruiser(), DIESEL);
  expect(tags(story.changes)).toEqual(["oil-pressure-switch port unacknowledged"]);
  expect(secondsOf(story, story.changes[0])).toBeCloseTo(62, 1);
});

describe("5. a sender not fitted, then fitted and stuck at one value", () => {
  const DAY = 24 * 3600;

  test("all summer: not available, and not watched is said once, not with every trip", async () => {
    const summer = new SpokenRecording();
    for (let day = 0; day < 4; day++) {
      summer.engine(day * DAY, day * DAY + 120, { speed: 1800 });
      summer.engine(day * DAY + 120, day * DAY + 125, { speed: 0 });
    }
    // At night everything is off.
    const story = await spokenStory(summer, cruiser({ powered: "with-helm" }), DIESEL);
    expect(between(story, "engine/port/oil-pressure", 1, 100)).toEqual(["bad not-available"]);
    const oil = story.changes.filter(({ subject }) => subject === "oil-pressure-low--port");
    expect(tags(oil)).toEqual(["not-watched oil-pressure-low--port acknowledged"]);
    expect(oil[0].why).toContain("sent as not available");
    expect(rings(story)).toEqual([]);
  });

  test("fitted: the rule is judged again, and that is said", async () => {
    const story = await scenarioStory("sender-fitted-later", cruiser(), DIESEL);
    expect(between(story, "engine/port/oil-pressure", 121)).toEqual(["310300"]);
    expect(tags(story.changes)).toEqual([
      "not-watched oil-pressure-low--port acknowledged",
      "not-watched oil-pressure-low--port normal",
    ]);
  });
});

describe("6. real oil loss at 3,000 rpm; shut down after 6 s, the gateway dies, the computer restarts", () => {
  const loss = () =>
    new SpokenRecording().engine(0, 60, { speed: 3000, oil: 45 })
      .engine(60, 66, { speed: 3000, oil: 2 })
      .engine(66, 67, { speed: 0, oil: 0 })
      .battery(67, 600);
  const later = () =>
    new SpokenRecording().engine(700, 760, { speed: 0, oil: 0 }).battery(760, 1200);
  const boat = cruiser({ fuel: "petrol" });

  test("raised after 3 s, told once, then returned-unacknowledged through stop and silence", async () => {
    const story = await spokenStory(loss(), boat, PETROL);
    expect(tags(story.changes)).toEqual([
      "oil-pressure-low port unacknowledged",
      "oil-pressure-low port returned-unacknowledged",
    ]);
    expect(secondsOf(story, story.changes[0])).toBeCloseTo(63, 1);
  });

  test("and through the restart, until it is acknowledged", async () => {
    const before = await spokenStory(loss(), boat, PETROL);
    const { watch } = before;
    const memory = watch.alarms.memory(watch.timeline.now);
    const after = await spokenStory(later(), boat, { ...PETROL, memory });
    expect(after.changes).toEqual([]);
    expect(after.watch.alarms.statuses()[0]).toMatchObject({
      tag: "oil-pressure-low",
      state: "returned-unacknowledged",
      occurrence: 1,
    });
    const answer = { tag: "oil-pressure-low", subject: "port", occurrence: 1, who: "Ann" };
    after.watch.answer({ kind: "acknowledge", ...answer });
    expect(tags(after.watch.takeChanges())).toEqual(["oil-pressure-low port normal"]);
  });

  test("what covers it hides nothing that was already raised", async () => {
    // The engine's own switch covers the pressure, and closes a second after that has rung.
    const both = new SpokenRecording().engine(0, 60, { speed: 3000, oil: 45, status: [] })
      .engine(60, 64, { speed: 3000, oil: 2, status: [] })
      .engine(64, 90, { speed: 3000, oil: 2, status: ["low-oil-pressure"] });
    const story = await spokenStory(both, boat, PETROL);
    expect(tags(story.changes)).toEqual([
      "oil-pressure-low port unacknowledged",
      "oil-pressure-switch port unacknowledged",
    ]);
    expect(story.watch.alarms.statuses().slice(0, 2)).toMatchObject([
      { tag: "oil-pressure-switch", state: "unacknowledged" },
      { tag: "oil-pressure-low", state: "unacknowledged" },
    ]);
  });
});
