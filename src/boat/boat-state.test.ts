import { describe, expect, test } from "vitest";
import { HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { BoatState, NEVER_SET } from "./boat-state.ts";
import { Quality } from "./quality.ts";

const SPEED = "speed/over-ground";

/** A state that follows the signals of a hand-made boat. */
class Followed {
  readonly boat = new HandMadeBoat([]);
  readonly state = new BoatState(this.boat.table, NEVER_SET, micros(0));

  at(seconds: number, said: Readonly<Record<string, number | string>>): this {
    while (this.state.nextDue <= micros(seconds)) this.state.runTimer();
    this.boat.say(seconds, said);
    this.state.follow(micros(seconds));
    this.boat.table.clearFresh();
    return this;
  }

  read(quantity: string): string | number {
    const { table } = this.boat;
    const signal = table.find(`boat/${quantity}`);
    if (table.qualities[signal] !== Quality.good) return "not known";
    return table.word(signal) ?? table.values[signal];
  }
}

describe("the boat's condition", () => {
  test("is left while nobody has set it, and what a person sets afterwards", () => {
    const followed = new Followed();
    expect([followed.read("condition"), followed.state.record.condition]).toEqual(["left", null]);
    expect(followed.state.isNobodyAboard).toBe(true);
    followed.state.set("aboard", micros(1));
    expect([followed.read("condition"), followed.state.isNobodyAboard]).toEqual(["aboard", false]);
    followed.state.set("winterised", micros(2));
    expect([followed.read("winterised"), followed.state.record]).toEqual([
      1,
      { condition: "aboard", winterised: true },
    ]);
    followed.state.set("laid-up", micros(3));
    expect([followed.read("condition"), followed.read("winterised")]).toEqual(["laid-up", 1]);
    followed.state.set("not-winterised", micros(4));
    expect([followed.read("condition"), followed.read("winterised")]).toEqual(["laid-up", 0]);
  });
});

describe("under way", () => {
  test("is above one knot over ground for a minute, and no more when slower", () => {
    const followed = new Followed().at(0, { [SPEED]: 3 });
    expect(followed.read("under-way")).toBe(0);
    expect(followed.at(59, { [SPEED]: 2 }).read("under-way")).toBe(0);
    expect(followed.at(60, { [SPEED]: 2.1 }).read("under-way")).toBe(1);
    expect(followed.at(70, { [SPEED]: 0.5 }).read("under-way")).toBe(0);
    expect(followed.at(80, { [SPEED]: 3 }).at(139, {}).read("under-way")).toBe(0);
  });

  test("begins anew after a break", () => {
    const followed = new Followed().at(0, { [SPEED]: 3 }).at(50, { [SPEED]: 0.4 })
      .at(55, { [SPEED]: 3 });
    expect(followed.at(70, { [SPEED]: 3.1 }).read("under-way")).toBe(0);
    expect(followed.at(115, { [SPEED]: 3 }).read("under-way")).toBe(1);
  });

  test("is not known while nothing tells", () => {
    const followed = new Followed().at(0, { [SPEED]: "not available" });
    expect(followed.read("under-way")).toBe("not known");
  });
});

describe("engines running", () => {
  const PORT = "engine/port/condition";
  const STARBOARD = "engine/starboard/condition";

  test("is on while any of them idles or runs, and off when all are known to be still", () => {
    const followed = new Followed().at(0, { [PORT]: "stopped", [STARBOARD]: "cranking" });
    expect(followed.read("engines-running")).toBe(0);
    expect(followed.at(1, { [STARBOARD]: "idling" }).read("engines-running")).toBe(1);
    expect(followed.at(2, { [PORT]: "running" }).read("engines-running")).toBe(1);
    expect(followed.at(3, { [PORT]: "not available" }).read("engines-running")).toBe(1);
    followed.at(4, { [PORT]: "stopped-presumed", [STARBOARD]: "stopped" });
    expect(followed.read("engines-running")).toBe(0);
  });

  test("is not known while one is not and none is known to run, or there is none", () => {
    expect(new Followed().at(0, { [SPEED]: 3 }).read("engines-running")).toBe("not known");
    const followed = new Followed().at(0, { [PORT]: "stopped", [STARBOARD]: "not available" });
    expect(followed.read("engines-running")).toBe("not known");
  });
});
