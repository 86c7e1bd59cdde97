import { expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";

function position(
  boat: TalkingBoat,
  seconds: number,
  latitude: number,
  longitude: number,
): string[] {
  boat.say(seconds, 129025, { latitude, longitude });
  return ["position/latitude", "position/longitude"].map((name) => boat.read(name));
}

const IMPLAUSIBLE = ["bad implausible", "bad implausible"];

test("situation 11: 0°, 0° is no position, neither at first nor later, however often it is said", () => {
  const boat = new TalkingBoat();
  expect(position(boat, 0, 0, 0)).toEqual(IMPLAUSIBLE);
  expect(position(boat, 0.1, 50.4, -7.9)).toEqual(["50.4 good", "-7.9 good"]);
  for (let tenth = 2; tenth < 20; tenth++) {
    expect(position(boat, tenth / 10, 0, 0)).toEqual(IMPLAUSIBLE);
  }
});

test("a boat on the equator or on the meridian of Greenwich has a position", () => {
  const boat = new TalkingBoat();
  expect(position(boat, 0, 51.5, 0)).toEqual(["51.5 good", "0 good"]);
  expect(position(boat, 0.1, 0, 0)).toEqual(IMPLAUSIBLE);
  expect(position(boat, 0.2, 51.5, 0)).toEqual(["51.5 good", "0 good"]);
  expect(position(boat, 0.3, 0, 9.3)).toEqual(["0 good", "9.3 good"]);
});
