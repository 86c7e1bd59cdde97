import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros, rulesOf } from "../../tests/support/hand-made-boat.ts";

const SPEED = "engine/port/speed";
const OIL = "engine/port/oil-pressure";
const PORT = boatWith([{ group: "engine", name: "port" }]);

/** Watching begins ten seconds after the engine does, which is as long as a return takes. */
function rules(limit: string, watch = "{ signal: speed, over: 500 rpm, held: 10 s }"): string {
  return `
alarms:
  - { tag: oil, title: Oil, each: engine, priority: alarm, on-delay: 3 s, off-delay: 10 s,
      low: { signal: oil-pressure, setpoint: ${limit} },
      watch-while: ${watch} }
`;
}

/** Half a bar at that speed, told once a second. */
function turns(boat: HandMadeBoat, from: number, to: number, speed = 1000): HandMadeBoat {
  for (let second = from; second < to; second++) {
    boat.at(second, { [SPEED]: speed + second % 2, [OIL]: 50_000 });
  }
  return boat;
}

describe("an alarm that stands", () => {
  test("stands on after a restart, though its watching waits for something to hold", () => {
    const before = turns(new HandMadeBoat(rules("1 bar"), PORT), 0, 30);
    expect(before.story).toEqual(["13 oil port unacknowledged"]);
    const memory = before.alarms.memory(micros(30));
    expect(turns(new HandMadeBoat(rules("1 bar"), PORT, memory), 40, 90).story).toEqual([]);
  });

  test("returns after a restart when what is watched for is over", () => {
    const memory = turns(new HandMadeBoat(rules("1 bar"), PORT), 0, 30).alarms.memory(micros(30));
    const after = turns(new HandMadeBoat(rules("1 bar"), PORT, memory), 40, 90, 0);
    expect(after.story).toEqual(["50 oil port returned-unacknowledged"]);
  });

  test("stands on when a number of its rule is changed", () => {
    const boat = turns(new HandMadeBoat(rules("1 bar"), PORT), 0, 30);
    boat.alarms.setRules(rulesOf(rules("1.1 bar")), micros(30));
    expect(turns(boat, 30, 90).story).toEqual(["13 oil port unacknowledged"]);
  });

  test("is presumed nothing of where its watching waits for something not to be so", () => {
    const watch = "{ not: { signal: speed, over: 500 rpm, held: 60 s } }";
    const boat = turns(new HandMadeBoat(rules("1 bar", watch), PORT), 0, 30);
    const memory = boat.alarms.memory(micros(30));
    expect(boat.story).toEqual(["3 oil port unacknowledged"]);
    expect(turns(new HandMadeBoat(rules("1 bar", watch), PORT, memory), 40, 90).story).toEqual([]);
  });
});
