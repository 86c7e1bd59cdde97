import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

const HOUR = 3600;

describe("moved", () => {
  const LATITUDE = "position/latitude";
  const LONGITUDE = "position/longitude";
  const mooring = { latitude: 50.75, longitude: -1.3, radius: 40 };
  const text = oneRule("", "moved: { fix-error: 10 m, deadband: 10 m }", "on-delay: 120 s");

  test("is beyond the circle of the boat file and the fix error together", () => {
    const boat = new HandMadeBoat(text, { ...boatWith([]), mooring })
      .at(0, { [LATITUDE]: 50.75, [LONGITUDE]: -1.3 })
      // 50 m north, to a tenth of a millimetre (GeographicLib).
      .at(10, { [LATITUDE]: 50.750449464 }).until(HOUR)
      .at(HOUR, { [LATITUDE]: 50.75046 }).until(HOUR + 120)
      .at(2 * HOUR, { [LATITUDE]: 50.75037 })
      .at(3 * HOUR, { [LATITUDE]: 50.7503 });
    expect(boat.story).toEqual([
      "3720 it boat unacknowledged",
      "10800 it boat returned-unacknowledged",
    ]);
    expect(boat.changes[0]).toMatchObject({ value: 51, setpoint: 50, unit: "m" });
    expect(boat.changes[0].why).toBe(
      "The boat lies 51.2 m from her mooring; the limit is 50.0 m for 2 min.",
    );
  });

  test("says that nobody gave a mooring", () => {
    const boat = new HandMadeBoat(text).at(0, { [LATITUDE]: 50.75, [LONGITUDE]: -1.3 });
    expect(boat.alarms.notWatched()[0].reason).toBe("the boat file gives no mooring");
  });

  describe("from the anchor", () => {
    const anchored = oneRule("", "moved: { from: anchor, radius: 40 m, fix-error: 10 m }");
    const said = (condition: string, latitude: number) => ({
      "boat/condition": condition,
      [LATITUDE]: latitude,
      [LONGITUDE]: -1.3,
    });

    test("is from where she lay when somebody said that she is anchored", () => {
      const boat = new HandMadeBoat(anchored)
        .at(0, said("aboard", 50.7))
        .at(10, said("anchored", 50.75))
        .at(20, said("anchored", 50.7504))
        .at(30, said("anchored", 50.7505));
      expect(boat.story).toEqual(["30 it boat unacknowledged"]);
      expect(boat.changes[0].why)
        .toBe("The boat lies 55.6 m from where she anchored; the limit is 50.0 m.");
    });

    test("is from the new place when she has been aboard and anchored again", () => {
      const boat = new HandMadeBoat(anchored)
        .at(0, said("anchored", 50.75)).at(10, said("aboard", 50.76))
        .at(20, said("anchored", 50.77)).at(30, said("anchored", 50.7702));
      expect(boat.story).toEqual([]);
    });

    test("keeps that place over a restart", () => {
      const before = new HandMadeBoat(anchored).at(0, said("anchored", 50.75));
      const after = new HandMadeBoat(anchored, boatWith([]), before.alarms.memory(micros(1)))
        .at(100, said("anchored", 50.7505));
      expect(after.story).toEqual(["100 it boat unacknowledged"]);
    });

    test("is not known while she is not anchored, or nothing says where she is", () => {
      const boat = new HandMadeBoat(anchored).at(0, said("aboard", 50.75));
      expect(boat.alarms.roomLeft(micros(0))).toMatchObject([{ value: null, room: null }]);
    });
  });

  test("takes a point of its own, across the date line too", () => {
    const point = "{ latitude: -16.5°, longitude: 179.9995° }";
    const own = oneRule("", `moved: { from: ${point}, radius: 100 m, fix-error: 0 m }`);
    const boat = new HandMadeBoat(own).at(0, { [LATITUDE]: -16.5, [LONGITUDE]: -179.9995 });
    expect(boat.changes[0]).toMatchObject({ value: 107, setpoint: 100 });
  });
});
