import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";
import { readBoatFile } from "./boat-file.ts";

const WARM = 273.15 + 60;

function boatOf(text: string): TalkingBoat {
  const { boat, problems } = readBoatFile("boat.yaml", text);
  expect(problems).toEqual([]);
  return new TalkingBoat(boat);
}

describe("temperatures", () => {
  test("are tied to an engine where the boat file says so", () => {
    const boat = boatOf(`
engines:
  port: { instance: 0, exhaust: { temperature-instance: 2 }, shaft-seal: { temperature-instance: 4 } }
`);
    boat.say(0, 130312, { instance: 2, place: "exhaust-gas", temperature: WARM });
    boat.say(0, 130316, { instance: 4, place: "shaft-seal", temperature: WARM });
    boat.say(0, 130316, { instance: 3, place: "exhaust-gas", temperature: WARM });
    expect(boat.read("engine/port/exhaust-temperature")).toBe("60 good");
    expect(boat.read("engine/port/shaft-seal-temperature")).toBe("60 good");
    expect(boat.read("exhaust/3/temperature")).toBe("60 good");
  });

  test("of rooms have the names that the boat file gives, in the group of their place", () => {
    const boat = boatOf(`
temperatures:
  saloon: { place: inside, instance: 0 }
  galley: { place: freezer, instance: 1 }
`);
    boat.say(0, 130312, { instance: 0, place: "inside", temperature: WARM });
    boat.say(0, 130312, { instance: 1, place: "freezer", temperature: 255.15 });
    boat.say(0, 130313, { instance: 0, place: "inside", humidity: 50 });
    expect(boat.read("cabin/saloon/temperature")).toBe("60 good");
    expect(boat.read("cabin/saloon/humidity")).toBe("50 good");
    expect(boat.read("freezer/galley/temperature")).toBe("-18 good");
  });

  test("without a boat file are called by place and number", () => {
    const boat = new TalkingBoat();
    for (const instance of [0, 1]) {
      boat.say(0, 130312, { instance, place: "inside", temperature: WARM });
      boat.say(0, 130312, { instance, place: "sea", temperature: 280.15 });
    }
    expect(boat.names()).toEqual([
      "cabin/inside-0/temperature",
      "sea/temperature",
      "cabin/inside-1/temperature",
      "sea/1/temperature",
    ]);
  });

  test("of 130311, which says no number, are called by their place", () => {
    const boat = boatOf("temperatures: { galley: { place: main-cabin } }\n");
    const said = { temperature: WARM, humidity: 50 };
    boat.say(0, 130311, { ...said, "place": "inside", "humidity-place": "inside" });
    boat.say(0, 130311, { ...said, "place": "engine-room", "humidity-place": "inside" });
    boat.say(0, 130311, { ...said, "place": "main-cabin", "humidity-place": "outside" });
    boat.say(0, 130311, { ...said, "place": "outside", "humidity-place": "outside" });
    expect(boat.names().filter((name) => name !== "air/pressure")).toEqual([
      "cabin/inside/temperature",
      "cabin/inside/humidity",
      "engine-room/temperature",
      "cabin/galley/temperature",
      "air/temperature",
      "air/humidity",
    ]);
    expect(boat.read("cabin/galley/temperature")).toBe("60 good");
  });

  test.each([
    ["no probe, 0 K", 0],
    ["-256 °C", 17.15],
  ])("that cannot be are bad: %s", (_, temperature) => {
    const boat = new TalkingBoat();
    boat.say(0, 130312, { instance: 0, place: "inside", temperature });
    expect(boat.read("cabin/inside-0/temperature")).toBe("bad implausible");
  });
});
