import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";

const KELVIN = 273.15;

/** Three kinds of message that one weather station sends. */
class Station extends TalkingBoat {
  old(seconds: number, sea: number | null, outside: number | null = null): void {
    const kelvin = (it: number | null) => it === null ? null : it + KELVIN;
    this.say(seconds, 130310, {
      "water-temperature": kelvin(sea),
      "outside-temperature": kelvin(outside),
    });
  }

  fresh(seconds: number, sea: number | null): void {
    const temperature = sea === null ? null : sea + KELVIN;
    this.say(seconds, 130312, { instance: 0, place: "sea", temperature });
  }
}

describe("a signal that several kinds of message bring", () => {
  test("is not taken away by one that says nothing", () => {
    const boat = new Station();
    for (let second = 0; second < 10; second++) {
      boat.fresh(second, 14);
      boat.old(second + 0.5, null, 20);
      expect(boat.read("sea/temperature")).toBe("14 good");
      expect(boat.read("air/temperature")).toBe("20 good");
    }
    expect(boat.changedAt("sea/temperature")).toBe(0);
  });

  test("stays with the kind that brought it first, while that has a value", () => {
    const boat = new Station();
    boat.old(0, 14);
    boat.fresh(0.1, 15);
    boat.old(0.5, 14.5);
    boat.fresh(0.6, 15);
    expect(boat.read("sea/temperature")).toBe("14.5 good");
    boat.old(1, null);
    expect(boat.read("sea/temperature")).toBe("bad not-available");
    boat.fresh(1.1, 15);
    expect(boat.read("sea/temperature")).toBe("15 good");
    boat.old(1.5, 16);
    expect(boat.read("sea/temperature")).toBe("15 good");
  });

  test("goes to the other kind when the first is no longer heard", () => {
    const boat = new Station();
    boat.old(0, 14);
    boat.fresh(1, 15);
    boat.pass(2);
    expect(boat.read("sea/temperature")).toBe("bad not-heard");
    boat.fresh(3, 15);
    expect(boat.read("sea/temperature")).toBe("15 good");
    boat.pass(9);
    expect(boat.read("sea/temperature")).toBe("bad not-heard");
    expect(boat.changedAt("sea/temperature")).toBe(9);
  });
});

describe("a signal that two devices bring, each in its own kind of message", () => {
  const plotter = { source: 3 };
  const sea = (boat: TalkingBoat, seconds: number, celsius: number | null) =>
    boat.say(seconds, 130312, {
      instance: 0,
      place: "sea",
      temperature: celsius === null ? null : celsius + KELVIN,
    }, plotter);

  test("is uncertain, with a caution that names both, until one has been quiet for a minute", () => {
    const boat = new Station();
    for (let second = 0; second < 10; second++) {
      boat.old(second, 14 + second / 10, 20);
      sea(boat, second + 0.5, 17);
    }
    expect(boat.read("sea/temperature")).toBe("14.9 uncertain two-senders");
    expect(boat.read("sea/two-senders")).toBe("1 good");
    expect(boat.read("air/temperature")).toBe("20 good");
    const [contested] = boat.signals.contested();
    expect(contested).toMatchObject({ group: "sea", subject: "" });
    expect(contested.senders.map(({ address }) => address)).toEqual([1, 3]);
    for (let second = 10; second < 69; second++) boat.old(second, 15);
    expect(boat.read("sea/temperature")).toBe("15 uncertain two-senders");
    boat.old(70, 15);
    expect(boat.read("sea/temperature")).toBe("15 good");
    expect(boat.read("sea/two-senders")).toBe("0 good");
    expect(boat.signals.contested()).toEqual([]);
  });

  test("is uncertain still when the other takes over, and then its own", () => {
    const boat = new Station();
    for (let second = 0; second < 5; second++) {
      boat.old(second, 14);
      sea(boat, second + 0.5, 17);
    }
    for (let second = 5; second < 63; second++) sea(boat, second + 0.5, 17);
    expect(boat.read("sea/temperature")).toBe("17 uncertain two-senders");
    sea(boat, 64.5, 17);
    expect(boat.read("sea/temperature")).toBe("17 good");
  });

  test("is not contested by one that says nothing of it", () => {
    const boat = new Station();
    for (let second = 0; second < 5; second++) {
      boat.old(second, 14);
      sea(boat, second + 0.5, null);
    }
    expect(boat.read("sea/temperature")).toBe("14 good");
    expect(boat.read("sea/two-senders")).toBe("none");
  });
});
