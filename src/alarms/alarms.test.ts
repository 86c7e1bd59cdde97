import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  boatWith,
  HandMadeBoat,
  micros,
  rulesOf,
  type Said,
  START,
} from "../../tests/support/hand-made-boat.ts";
import { alarmRecordSchema } from "./alarm-record.ts";
import { onWatch } from "./on-watch.ts";

const VOLTS = "battery/house/voltage";

const RULES = `
alarms:
  - { tag: volts-low, title: Low, each: battery, priority: warning, on-delay: 30 min,
      low: { signal: voltage, setpoint: 12.2 V, deadband: 0.1 V } }
  - { tag: volts-high, title: High, each: battery, priority: alarm,
      high: { signal: voltage, setpoint: 15 V } }
  - { tag: cool, title: Cool, each: battery, priority: caution,
      low: { signal: temperature, setpoint: 5 °C } }
`;

describe("a person's answer", () => {
  const high = () => new HandMadeBoat(RULES).at(0, { [VOLTS]: 16 });

  test("names the raising, and is told with who gave it", () => {
    const boat = high();
    expect(boat.answer(1, "volts-high", "house", 1)).toEqual({ accepted: true });
    expect(boat.changes.at(-1)).toMatchObject({
      from: "unacknowledged",
      to: "acknowledged",
      by: "Ann",
      why: "Answered by Ann.",
      time: micros(1),
    });
  });

  test("to anything else is refused with the reason", () => {
    const boat = high();
    const refused = (occurrence: number, tag = "volts-high") => {
      const outcome = boat.answer(2, tag, "house", occurrence);
      return outcome.accepted ? "" : outcome.refused;
    };
    expect(refused(1, "volts-low")).toBe("This alarm has not been raised yet.");
    expect(refused(1, "nothing")).toBe("There is no alarm nothing of house.");
    expect(refused(1, "volts-hihg")).toBe(
      "There is no alarm volts-hihg of house; did you mean volts-high?",
    );
    expect(boat.answer(2, "volts-high", "huose", 1)).toMatchObject({
      refused: "There is no alarm volts-high of huose; did you mean house?",
    });
    expect(refused(2)).toBe(
      "This alarm has not been raised so often: found occurrence 2, the latest is 1.",
    );
    boat.answer(3, "volts-high", "house", 1);
    expect(refused(1)).toBe("It has been answered already.");
    boat.at(4, { [VOLTS]: 13 });
    expect(refused(1)).toBe("It is over and was answered.");
    boat.at(5, { [VOLTS]: 16 });
    expect(refused(1)).toBe(
      "That was an earlier time; it is over, and Ann has answered it now. It has been raised again " +
        "since, and that is untouched.",
    );
    boat.at(6, { "battery/house/temperature": 1 });
    expect(refused(1, "cool")).toBe("A caution asks for no answer.");
  });
});

describe("alarm memory", () => {
  test("is plain JSON that its own schema reads back", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 16, "battery/house/temperature": 1 });
    const records: unknown = JSON.parse(JSON.stringify(boat.alarms.memory(micros(0))));
    expect(alarmRecordSchema.array().parse(records)).toEqual(boat.alarms.memory(micros(0)));
  });

  test("tells once which records changed", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 16 });
    expect(boat.alarms.dirtyRecords(micros(0))).toMatchObject([
      { tag: "volts-high", subject: "house", state: "unacknowledged", occurrence: 1, left: null },
    ]);
    expect(boat.alarms.dirtyRecords(micros(0))).toEqual([]);
  });

  test("keeps what is left of a delay, which goes on when its signal is heard again", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 12 }).until(20 * 60);
    const memory = boat.alarms.memory(micros(20 * 60));
    expect(memory).toMatchObject([{ tag: "volts-low", left: 10 * 60 * 1_000_000 }]);
    const described = boatWith([{ group: "battery", name: "house" }]);
    // The clock of the computer that starts again may say anything.
    const restarted = new HandMadeBoat(RULES, described, memory)
      .at(5000, {}).at(5010, { [VOLTS]: 12 }).until(9999);
    expect(restarted.story).toEqual(["5610 volts-low house unacknowledged"]);
  });

  test("gives a delay up that finds nothing to go on with for a minute", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 12 }).until(20 * 60);
    const described = boatWith([{ group: "battery", name: "house" }]);
    const restarted = new HandMadeBoat(RULES, described, boat.alarms.memory(micros(20 * 60)))
      .at(5000, {}).at(5060, { [VOLTS]: 12 }).until(9999);
    expect(restarted.story).toEqual(["6860 volts-low house unacknowledged"]);
  });

  test("counts on from the last raising", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 16 }).at(1, { [VOLTS]: 13 });
    boat.answer(2, "volts-high", "house", 1);
    const restarted = new HandMadeBoat(RULES, boatWith([]), boat.alarms.memory(micros(2)))
      .at(10, { [VOLTS]: 16 });
    expect(restarted.changes[0].occurrence).toBe(2);
  });

  test("shows and answers what was raised though its battery is not heard of yet", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 16 });
    const restarted = new HandMadeBoat(RULES, boatWith([]), boat.alarms.memory(micros(0)));
    expect(restarted.alarms.statuses()).toMatchObject([
      { tag: "volts-high", subject: "house", state: "unacknowledged", value: 16, setpoint: 15 },
    ]);
    expect(restarted.answer(1, "volts-high", "house", 1)).toEqual({ accepted: true });
  });

  test("forgets what no rule is about any more", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 16 });
    const others = RULES.replace("tag: volts-high", "tag: volts-too-high");
    const restarted = new HandMadeBoat(others, boatWith([]), boat.alarms.memory(micros(0)));
    expect(restarted.at(1, {}).alarms.memory(micros(1))).toEqual([]);
  });
});

describe("other rules put in force", () => {
  test("leave the alarms of the same tag and subject as they are", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 12 }).at(60, { [VOLTS]: 16 });
    boat.at(70, { [VOLTS]: 12 });
    boat.alarms.setRules(rulesOf(RULES.replace("setpoint: 15 V", "setpoint: 14 V")), micros(100));
    expect(boat.alarms.statuses()[0]).toMatchObject({
      tag: "volts-high",
      state: "returned-unacknowledged",
    });
    boat.until(3600);
    // The on-delay of the rule that was not touched went on.
    expect(boat.story.at(-1)).toBe("1870 volts-low house unacknowledged");
    boat.at(4000, { [VOLTS]: 14.5 });
    expect(boat.story.slice(-2)).toEqual([
      "4000 volts-high house unacknowledged",
      "4000 volts-low house returned-unacknowledged",
    ]);
  });
});

describe("room left", () => {
  test("is the distance to the limit as a share of the usual range, least first", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [VOLTS]: 13.2, "battery/house/temperature": 3 });
    expect(boat.alarms.roomLeft(micros(0)).map(({ tag, room }) => [tag, room?.toFixed(3)]))
      .toEqual([["cool", "-0.033"], ["volts-low", "0.500"], ["volts-high", "0.900"]]);
  });

  test("is none, with the reason, while nothing is known", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: "not heard" });
    expect(boat.alarms.roomLeft(micros(0)).map(({ room, reason }) => [room, reason])).toEqual([
      [null, "nothing sends battery/house/temperature"],
      [null, "battery/house/voltage is not heard"],
      [null, "battery/house/voltage is not heard"],
    ]);
  });

  test("of a sender that may be lost is what is left of its delay", () => {
    const text = "alarms: [{ tag: lost, title: Lost, each: battery, priority: warning, " +
      "on-delay: 5 s, not-heard: { signal: voltage } }]";
    const boat = new HandMadeBoat(text).at(0, { [VOLTS]: 13 });
    expect(boat.alarms.roomLeft(micros(2))).toMatchObject([
      { room: 0.6, value: 2, setpoint: 5, unit: "s" },
    ]);
  });
});

describe("rules that cannot be judged", () => {
  test("are listed with the reason", () => {
    const boat = new HandMadeBoat(`${RULES}
  - { tag: fuel-low, title: Fuel low, each: tank, priority: caution,
      low: { signal: level, setpoint: 15 % } }
`).at(0, { [VOLTS]: 13 });
    expect(boat.alarms.notWatched()).toEqual([
      {
        tag: "cool",
        subject: "house",
        title: "Cool",
        reason: "nothing sends battery/house/temperature",
      },
      {
        tag: "fuel-low",
        subject: "",
        title: "Fuel low",
        reason: "this boat has no tank that the rule means",
      },
    ]);
  });
});

describe("rules of a pack for what the boat is not", () => {
  const petrol = (parts: string) => `
alarms:
  - { tag: petrol, title: Petrol, priority: warning, high: { signal: speed, setpoint: 5000 rpm },
      each: engine, ${parts} }
`;
  const port = { group: "engine", name: "port", words: { fuel: "diesel" } };
  const tagsOf = (boat: HandMadeBoat) => boat.alarms.unjudged().map(({ tag }) => tag);

  test("are nothing that an owner has to see to", () => {
    const boat = new HandMadeBoat(petrol("where: { fuel: petrol }"), boatWith([port]));
    expect(tagsOf(boat)).toEqual([]);
    expect(boat.alarms.notWatched()).toHaveLength(1);
  });

  test("are told where the boat file leaves it open, or says of nothing of the kind", () => {
    const open = boatWith([port, { group: "engine", name: "wing" }]);
    expect(tagsOf(new HandMadeBoat(petrol("where: { fuel: petrol }"), open))).toEqual(["petrol"]);
    expect(tagsOf(new HandMadeBoat(petrol("where: { fuel: petrol }")))).toEqual(["petrol"]);
    expect(tagsOf(new HandMadeBoat(petrol("only: [wing]"), boatWith([port])))).toEqual(["petrol"]);
  });
});

describe("a rule that may be about something of which the boat file says too little", () => {
  const rules = (parts: string) => `
alarms:
  - { tag: oil, title: Oil, each: engine, where: { fuel: diesel }, priority: alarm, ${parts}
      low: { signal: oil-pressure, setpoint: 100 kPa } }
`;
  const engines = (starboard: Readonly<Record<string, string>>) =>
    boatWith([
      { group: "engine", name: "port", words: { fuel: "diesel" } },
      { group: "engine", name: "starboard", words: starboard },
    ]);
  const told = (boat: HandMadeBoat) =>
    boat.at(0, { "engine/port/oil-pressure": 300_000 }).alarms.unjudged();

  test("is told of just that, though it watches others", () => {
    expect(told(new HandMadeBoat(rules(""), engines({})))).toEqual([
      {
        tag: "oil",
        subject: "",
        title: "Oil",
        reason: 'the boat file does not say "fuel" of engine starboard',
      },
    ]);
    expect(told(new HandMadeBoat(rules(""), engines({ fuel: "petrol" })))).toEqual([]);
  });

  test("is on watch for the others all the same", () => {
    const boat = new HandMadeBoat(rules(""), engines({}));
    const unjudged = told(boat);
    expect(onWatch(boat.alarms.statuses(), unjudged)).toBe(1);
  });

  test("is not, where it names those that it is for", () => {
    expect(told(new HandMadeBoat(rules("only: [port],"), engines({})))).toEqual([]);
  });
});

describe("timers of one instant", () => {
  test("act in the order of tag and subject, whatever was heard first", () => {
    const text = `
alarms:
  - { tag: b, title: B, each: battery, priority: alarm, on-delay: 2 s,
      high: { signal: voltage, setpoint: 15 V } }
  - { tag: a, title: A, each: battery, priority: alarm, on-delay: 1 s,
      high: { signal: voltage, setpoint: 15 V } }
`;
    const boat = new HandMadeBoat(text)
      .at(0, { "battery/start/voltage": 16, "battery/house/voltage": 13 })
      .at(1, { "battery/house/voltage": 16 })
      .until(9);
    expect(boat.story).toEqual([
      "1 a start unacknowledged",
      "2 a house unacknowledged",
      "2 b start unacknowledged",
      "3 b house unacknowledged",
    ]);
  });
});

describe("the same messages", () => {
  const names = [VOLTS, "battery/start/voltage", "battery/house/temperature"];
  const message = fc.record({
    wait: fc.integer({ min: 1, max: 900_000_000 }),
    values: fc.dictionary(
      fc.constantFrom(...names),
      fc.constantFrom<number | string>(4, 12, 12.25, 13, 16, "not available", "not heard"),
      { noNullPrototype: true },
    ),
  });

  test("give the same changes in whatever order their signals are stored", () => {
    fc.assert(fc.property(fc.array(message, { maxLength: 40 }), (messages) => {
      const stories = [false, true].map((isReversed) => {
        const boat = new HandMadeBoat(RULES);
        // All signals are known from the start: which comes first otherwise names the subjects.
        boat.at(0, Object.fromEntries(names.map((name) => [name, "not heard"])));
        let now = START;
        for (const { wait, values } of messages) {
          now += wait;
          const entries = Object.entries(values);
          const said: Said = Object.fromEntries(isReversed ? entries.reverse() : entries);
          boat.atMicros(now, said);
        }
        return boat.changes;
      });
      expect(stories[0]).toEqual(stories[1]);
    }));
  });
});
