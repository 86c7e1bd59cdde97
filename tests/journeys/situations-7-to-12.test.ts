import { beforeAll, describe, expect, test } from "vitest";
import { QUALITY_WORDS, REASON_WORDS } from "../../src/boat/quality.ts";
import { SECOND } from "../../src/ground/time.ts";
import { woven } from "../../src/simulator/scenarios/passages.ts";
import { RECEIVER_DATE_WRONG } from "../../src/simulator/scenarios/receiver-date-wrong.ts";
import { boatWith, HandMadeBoat, rulesOf } from "../support/hand-made-boat.ts";
import { cruiser } from "../support/cruiser.ts";
import { ownFolder } from "../support/own-folder.ts";
import { packsFor } from "../support/pack-rehearsal.ts";
import { rings, secondsOf, tags } from "../support/rings.ts";
import { between, numbers } from "../support/said-between.ts";
import {
  recordingStory,
  scenarioStory,
  type SignalStory,
  spokenStory,
} from "../support/signal-story.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { MORNING } from "../support/talking-boat.ts";

/** The twelve nasty situations, each under its number, with all packs as they are shipped. */
const RULES = packsFor("diesel");
const ABOARD = { rules: RULES, condition: "aboard" } as const;
const LEFT = { rules: RULES, condition: "left" } as const;

describe("7. an acknowledgement of occurrence 41 arrives after 41 cleared and 42 rose", () => {
  const RULE = `alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low: { signal: oil-pressure, setpoint: 10 psi }
    priority: alarm
`;
  const OIL = "engine/port/oil-pressure";

  test("it is refused with the reason, 42 is untouched, and its own answer ends it", () => {
    const boat = new HandMadeBoat(RULE, boatWith([{ group: "engine", name: "port" }]));
    for (let occurrence = 1; occurrence <= 42; occurrence++) {
      boat.at(occurrence * 10, { [OIL]: 1 });
      if (occurrence === 42) break;
      boat.at(occurrence * 10 + 5, { [OIL]: 400_000 });
      if (occurrence < 41) boat.answer(occurrence * 10 + 6, "oil-low", "port", occurrence);
    }
    const before = boat.alarms.statuses()[0];
    expect(before).toMatchObject({ state: "unacknowledged", occurrence: 42 });
    expect(boat.answer(430, "oil-low", "port", 41)).toEqual({
      accepted: false,
      refused: expect.stringMatching(
        /^That was an earlier time; .+raised again since, and that is untouched\.$/,
      ),
    });
    expect(boat.alarms.statuses()[0]).toEqual(before);
    expect(boat.answer(431, "oil-low", "port", 42)).toEqual({ accepted: true });
  });
});

describe("8. a lithium battery opens under alternator charge", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("battery-opens-under-charge", cruiser(), ABOARD);
  });

  test("the current falls from 120 A to 0 and the volts jump", () => {
    expect(Math.min(...numbers(between(story, "battery/house/current", 130, 149))))
      .toBeGreaterThan(120);
    expect(Math.max(...numbers(between(story, "battery/house/current", 152)))).toBeLessThan(1);
    expect(Math.max(...numbers(between(story, "engine/port/alternator-voltage", 149, 155))))
      .toBeGreaterThan(16);
  });

  test("'battery disconnected while charging' comes within 3 s", () => {
    const [first] = rings(story);
    expect(tags([first])).toEqual(["battery-disconnected-while-charging house unacknowledged"]);
    expect(secondsOf(story, first)).toBeGreaterThanOrEqual(150);
    expect(secondsOf(story, first)).toBeLessThanOrEqual(153);
  });

  test("over-voltage is joined to it: no second ring, also where the volts stay at 16.5", async () => {
    expect(rings(story)).toHaveLength(1);
    const opened = new SpokenRecording();
    for (let at = 0; at < 120; at += 1.5) {
      const [voltage, current] = at < 60 ? [14.2, 120] : [16.5, 0];
      opened.say(at, 127508, { instance: 0, voltage, current });
    }
    const high = await spokenStory(opened, cruiser(), ABOARD);
    expect(tags(rings(high))).toEqual(["battery-disconnected-while-charging house unacknowledged"]);
  });

  test("the state of charge is not called good", () => {
    expect(between(story, "battery/house/state-of-charge", 100, 150)).toEqual(["51"]);
    const { table } = story.watch.signals;
    const charge = table.find("battery/house/state-of-charge");
    expect(QUALITY_WORDS[table.qualities[charge]]).toBe("uncertain");
  });
});

describe("9. shore power fails at night; the charger disappears; the battery slowly falls", () => {
  test("no 'device not heard'; at 10 min 'shore power probably lost'", async () => {
    const story = await scenarioStory(
      "shore-power-lost-at-night",
      cruiser({ house: "agm" }),
      LEFT,
    );
    expect(tags(rings(story))).toEqual([
      "shore-power-probably-lost shore unacknowledged",
      "battery-low-agm house unacknowledged",
    ]);
    expect(secondsOf(story, rings(story)[0])).toBeGreaterThanOrEqual(1195);
    expect(secondsOf(story, rings(story)[0])).toBeLessThanOrEqual(1205);
    expect(story.changes.filter(({ tag }) => tag.includes("device"))).toEqual([]);
  });

  test("12.2 V later is a new ring, not hidden as a consequence", async () => {
    const HOUR = 3600;
    const night = new SpokenRecording();
    for (let at = 0; at < 7 * HOUR; at += 1.5) {
      const isCharged = at < 600;
      if (isCharged) {
        night.say(at, 127507, { "instance": 0, "operating-state": "float" }, 3);
      }
      const voltage = isCharged ? 13.4 : Math.max(12.1, 12.7 - 0.1 * (at - 600) / HOUR);
      night.say(at, 127508, { instance: 0, voltage, current: isCharged ? 0.5 : -3 }, 2);
    }
    const story = await spokenStory(night, cruiser({ house: "agm" }), LEFT);
    expect(tags(rings(story))).toEqual([
      "shore-power-probably-lost shore unacknowledged",
      "battery-low-at-rest-agm house unacknowledged",
    ]);
    // 12.2 V are reached five hours after the charge, and must stand for half an hour.
    expect(secondsOf(story, rings(story)[1]) / HOUR).toBeCloseTo(600 / HOUR + 5.5, 1);
    expect(story.watch.alarms.statuses().slice(0, 2)).toMatchObject([
      { state: "unacknowledged" },
      { state: "unacknowledged" },
    ]);
  });
});

describe("10. a leak on a pump that only its float switches, beside a fridge", () => {
  const boat = cruiser({
    forwardPump: "inferred: { battery: house, step: 3..8 A, lasting: 4..120 s }",
  });
  /** One for each number of runs, so that each run that is counted is seen. */
  const COUNTING = rulesOf(`alarms:
${
    Array.from({ length: 20 }, (_, i) =>
      `  - tag: ran-${i + 1}
    title: Ran
    each: bilge
    only: [forward]
    count: { starts-of: pump, within: 1 h, at-least: ${i + 1} }
    priority: caution
`).join("")
  }`);
  const WATCHED = { ...LEFT, rules: [...RULES, ...COUNTING] };
  let story: SignalStory;
  let starts: number[];
  beforeAll(async () => {
    story = await scenarioStory("float-pump-leak", boat, WATCHED);
    const amperes = (story.said.get("battery/house/current") ?? [])
      .map(([at, what]) => [at / 1000, Number(what)]);
    // Neither the fridge nor what the pump does at the end falls by 3.5 to 4.8 A.
    starts = amperes.slice(1)
      .filter(([at, value], i) => {
        const by = amperes[i][1] - value;
        return at < 36 * 60 && by > 3.5 && by < 4.8;
      }).map(([at]) => at);
  });
  const counted = (one: SignalStory, until = Infinity) =>
    one.changes.filter((change) => change.tag.startsWith("ran-") && secondsOf(one, change) < until);

  test("its runs are counted within 10 %", () => {
    expect(starts.length).toBeGreaterThanOrEqual(8);
    const runs = counted(story, 36 * 60).length;
    expect(Math.abs(runs - starts.length) / starts.length).toBeLessThanOrEqual(0.1);
  });

  test("and are uncertain, because they are worked out", () => {
    const { table } = story.watch.signals;
    const pump = table.find("bilge/forward/pump");
    expect(QUALITY_WORDS[table.qualities[pump]]).toBe("uncertain");
    expect(REASON_WORDS[table.reasons[pump]]).toBe("inferred");
  });

  test("the warning comes on the fourth start", () => {
    const [warning] = rings(story);
    expect(warning).toMatchObject({ tag: "pump-starts-often", priority: "warning" });
    expect(secondsOf(story, warning)).toBeGreaterThan(starts[3]);
    // A run is known when it is over, and it lasts for about six seconds.
    expect(secondsOf(story, warning)).toBeLessThan(starts[3] + 12);
  });

  test("the fridge is never counted, nor another pump that has a contact", async () => {
    const fridge = await scenarioStory("fridge-cycles", boat, WATCHED);
    const amperes = numbers(between(fridge, "battery/house/current", 0));
    expect(Math.max(...amperes) - Math.min(...amperes)).toBeGreaterThan(4.5);
    expect(tags(fridge.changes)).toEqual([]);
  });

  test("with the high float on: an emergency alarm after 5 s", () => {
    const lifted = story.said.get("bilge/forward/float")?.find(([, what]) => what === "on");
    const last = rings(story).at(-1)!;
    expect(last).toMatchObject({ tag: "high-water", priority: "emergency-alarm" });
    expect(secondsOf(story, last)).toBeCloseTo(lifted![0] / 1000 + 5, 2);
  });
});

describe("11. the date is 1,024 weeks old, then nothing, then 0,0; the computer began in 1970", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("receiver-date-wrong", cruiser(), LEFT);
  });

  test("no step to the old date", () => {
    expect(between(story, "computer/clock-offset", 0, 259)).toEqual(["bad not-available"]);
  });

  test("no 'moved', nothing raised: only that it could not be judged meanwhile, and can again", () => {
    expect(between(story, "position/latitude", 151, 199)).toContain("bad implausible");
    expect(rings(story)).toEqual([]);
    expect(tags(story.changes)).toEqual([
      "not-watched moved--boat acknowledged",
      "not-watched moved--boat normal",
    ]);
  });

  test("a delay that runs while the clock is set forward by 56 years ends when it should", async () => {
    const scenario = {
      ...RECEIVER_DATE_WRONG,
      happenings: woven(
        [{ at: 10 * SECOND, do: "fault", fault: { kind: "shore-power-lost" } }],
        RECEIVER_DATE_WRONG.happenings,
      ),
    };
    const rules = rulesOf(`alarms:
  - tag: charger-gone
    title: Charger gone
    each: charger
    not-heard: { signal: operating-state }
    on-delay: 5 min
    priority: warning
`);
    const told = await scenarioStory(scenario, cruiser(), { rules, condition: "left" });
    expect(tags(told.changes)).toEqual(["charger-gone shore unacknowledged"]);
    // The clock was set 280 s after the beginning; last heard at 10 s, it is due at 310 s.
    const after = (told.changes[0].time - MORNING) / SECOND;
    expect(after).toBeGreaterThan(305);
    expect(after).toBeLessThanOrEqual(310);
  });
});

describe("12. a failing backbone", () => {
  let story: SignalStory;
  beforeAll(async () => {
    story = await scenarioStory("failing-backbone", cruiser(), ABOARD);
  });

  test("no message is assembled across a hole or of two sources", () => {
    const hours = ["engine/port/hours", "engine/starboard/hours"]
      .map((name) => numbers(between(story, name, 0)));
    for (const of of hours) expect(Math.max(...of) - Math.min(...of)).toBeLessThan(0.2);
    const volts = numbers(between(story, "engine/port/alternator-voltage", 60));
    expect(Math.min(...volts)).toBeGreaterThan(10);
    expect(Math.max(...volts)).toBeLessThan(16);
  });

  test("losses are counted by source", () => {
    const lost = [...story.watch.assembler.counts.lostBySource].filter((count) => count > 0);
    expect(lost.length).toBeGreaterThan(1);
  });

  test("the misframed message is malformed, and no charger fault", () => {
    expect(story.watch.assembler.counts.malformed).toBeGreaterThan(100);
    expect(story.changes.filter(({ tag }) => tag.startsWith("charger"))).toEqual([]);
  });

  test("one bus warning, with what to measure", () => {
    expect(tags(rings(story))).toEqual(["bus-errors main unacknowledged"]);
    const status = story.watch.alarms.statuses().find(({ tag }) => tag === "bus-errors");
    expect(status?.priority).toBe("warning");
    expect(status?.response.aboard).toMatch(
      /^Power off, measure between the two data lines: 60 Ω is right, 120 one terminator missing, 40 one too many/,
    );
  });

  test("engine rules go unknown and say so", async () => {
    const whole = new SpokenRecording().engine(0, 180, { speed: 1800, oil: 45 });
    // After half a minute no second frame of the engine's long messages arrives.
    const lines = whole.text.split("\n");
    const holed = lines.filter((line, i) =>
      i < lines.length / 6 || !/ [0-9A-F]{2}F201[0-9A-F]{2}#[0-9A-F]1/.test(line)
    );
    expect(holed.length).toBeLessThan(lines.length - 200);
    const folder = ownFolder({ "holed.log": holed.join("\n") });
    const told = await recordingStory(`${folder}/holed.log`, cruiser(), ABOARD);
    expect(between(told, "engine/port/oil-pressure", 60)).toEqual(["bad not-heard"]);
    expect(between(told, "engine/port/condition", 60)).toEqual(["running"]);
    expect(rings(told)).toEqual([]);
    expect(tags(told.changes)).toContain("not-watched oil-pressure-low--port acknowledged");
    const { reason } = told.watch.alarms.notWatched()
      .find(({ tag, subject }) => tag === "oil-pressure-low" && subject === "port")!;
    expect(reason).toMatch(/not heard/);
  });
});
