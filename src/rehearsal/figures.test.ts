import { expect, test } from "vitest";
import { type Micros, SECOND } from "../ground/time.ts";
import { boatWith, HandMadeBoat, START } from "../../tests/support/hand-made-boat.ts";
import { Figures } from "./figures.ts";

const RULES = `
alarms:
  - { tag: fast, title: Fast, each: engine, priority: alarm, high: { signal: speed, setpoint: 2000 rpm } }
  - { tag: lost, title: Lost, each: engine, priority: alarm, not-heard: { signal: speed }, on-delay: 5 s }
`;

const wall = (seconds: number): Micros => START + seconds * SECOND;

/** A boat whose figures are looked at once a second, and told of what was raised. */
function watched() {
  const boat = new HandMadeBoat(RULES);
  const figures = new Figures();
  const look = (seconds: number) => figures.look(boat.alarms, wall(seconds));
  boat.at(0, { "engine/port/speed": 1500 });
  look(0);
  const leastOf = (tag: string) =>
    figures.result(boat.alarms).find((one) => one.tag === tag)?.least;
  return { boat, figures, look, leastOf };
}

test("what was beyond its limit between two looks only has no room left", () => {
  const { boat, figures, look, leastOf } = watched();
  boat.at(0.3, { "engine/port/speed": 2100 }).at(0.6, { "engine/port/speed": 1900 });
  look(1);
  expect(leastOf("fast")).toMatchObject({ value: 1900, setpoint: 2000 });
  boat.changes.filter(({ to }) => to === "unacknowledged")
    .forEach((change) => figures.noticeRaised(change));
  expect(leastOf("fast")).toMatchObject({ value: 2100, setpoint: 2000, at: wall(0.3) });
  expect(leastOf("fast")?.room).toBeLessThan(0);
  // What is looked at further beyond is less.
  boat.at(2, { "engine/port/speed": 2050 });
  look(2);
  expect(leastOf("fast")).toMatchObject({ value: 2050, at: wall(2) });
});

test("what was silent while nothing could be looked at has reached its delay", () => {
  const { boat, figures, look, leastOf } = watched();
  boat.at(1, { "engine/port/speed": "not heard" }).at(100, { "engine/port/speed": 1500 });
  const raised = boat.changes.find(({ tag, to }) => tag === "lost" && to === "unacknowledged");
  if (raised === undefined) throw new Error("nothing was lost");
  figures.noticeRaised(raised);
  look(100);
  expect(leastOf("lost")).toMatchObject({ room: 0, value: 5, setpoint: 5, at: wall(5) });
});

test("a rule for what the boat file says she does not have is not one that could not be judged", () => {
  const petrol = `
alarms:
  - { tag: petrol, title: Petrol, each: engine, where: { fuel: petrol }, priority: alarm,
      high: { signal: speed, setpoint: 2000 rpm } }
`;
  const port = { group: "engine", name: "port", words: { fuel: "diesel" } };
  const standings = (...others: { group: string; name: string }[]) => {
    const { alarms } = new HandMadeBoat(petrol, boatWith([port, ...others]));
    return new Figures().result(alarms).map(({ standing }) => standing);
  };
  expect(standings()).toEqual(["for-nothing"]);
  expect(standings({ group: "engine", name: "wing" })).toEqual(["no-data"]);
});
