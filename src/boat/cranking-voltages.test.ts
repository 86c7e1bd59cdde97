import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";
import type { WireValue } from "../nmea2000/encode.ts";
import type { Boat, Subject } from "./boat.ts";

const SIGNAL = "engine/port/cranking-voltage";

function port(facts: Partial<Subject> = {}): Partial<Boat> {
  const battery = (name: string, instance: number): Subject => ({
    ...{ group: "battery", name, words: {}, numbers: {}, relations: {} },
    keys: [{ quantity: "self", instance }],
  });
  return {
    subjects: [
      {
        ...{ group: "engine", name: "port", words: {}, numbers: {}, relations: {} },
        keys: [{ quantity: "self", instance: 0 }],
        ...facts,
      },
      battery("house", 0),
      battery("start", 1),
    ],
  };
}

const speed = (boat: TalkingBoat, at: number, rpm: WireValue) =>
  boat.say(at, 127488, { instance: 0, speed: rpm });
const battery = (boat: TalkingBoat, at: number, instance: number, volts: WireValue) =>
  boat.say(at, 127508, { instance, voltage: volts });
const alternator = (boat: TalkingBoat, at: number, volts: WireValue) =>
  boat.say(at, 127489, { instance: 0, "alternator-voltage": volts });

/** One start: at rest, two seconds of cranking with these volts of the start battery, then idle. */
function start(boat: TalkingBoat, at: number, volts: readonly WireValue[]): void {
  speed(boat, at, 0);
  battery(boat, at + 0.1, 1, 12.6);
  speed(boat, at + 1, 180);
  volts.forEach((one, i) => battery(boat, at + 1.1 + i / 10, 1, one));
  speed(boat, at + 3, 700);
  battery(boat, at + 3.1, 1, 13.1);
}

describe("the lowest volts while cranking", () => {
  const named = port({ relations: { battery: "start" } });

  test("are those of the battery that the boat file names, told when the start is over", () => {
    const boat = new TalkingBoat(named);
    start(boat, 0, [10.4, 9.31, 10.2]);
    expect(boat.read(SIGNAL)).toBe("9.31 good");
    expect(boat.changedAt(SIGNAL)).toBe(3);
  });

  test("are those of the battery that it starts from, where it charges another one", () => {
    const boat = new TalkingBoat(port({ relations: { battery: "house" }, startsFrom: "start" }));
    battery(boat, 0, 0, 8);
    start(boat, 1, [9.5]);
    expect(boat.read(SIGNAL)).toBe("9.5 good");
  });

  test("are the alternator's where no battery is named, and never those of another battery", () => {
    const boat = new TalkingBoat(port());
    speed(boat, 0, 0);
    speed(boat, 1, 180);
    battery(boat, 1.1, 1, 8);
    alternator(boat, 1.2, 9.9);
    speed(boat, 3, 700);
    expect(boat.read(SIGNAL)).toBe("9.9 good");
  });

  test("count a reading that came after the last speed at rest, beside others", () => {
    const boat = new TalkingBoat(named);
    const early = (at: number, volts: readonly number[]) => {
      speed(boat, at, 0);
      battery(boat, at + 0.05, 1, 9.2);
      speed(boat, at + 0.1, 180);
      volts.forEach((one) => battery(boat, at + 0.5, 1, one));
      speed(boat, at + 2, 700);
      return boat.read(SIGNAL);
    };
    expect(early(0, [10.1])).toBe("9.2 good");
    // Alone it may have come before the starter turned.
    expect(early(10, [])).toBe("bad not-available");
  });

  test("count a reading that says again what was said before the start", () => {
    const boat = new TalkingBoat(named);
    start(boat, 0, [12.6]);
    expect(boat.read(SIGNAL)).toBe("12.6 good");
  });

  test("are none where nothing was received: no signal at first, later not available", () => {
    const boat = new TalkingBoat(named);
    start(boat, 0, []);
    expect(boat.read(SIGNAL)).toBe("none");
    start(boat, 10, [9.8]);
    start(boat, 20, [null]);
    expect(boat.read(SIGNAL)).toBe("bad not-available");
  });

  test("are told anew for a start with the very same volts", () => {
    const boat = new TalkingBoat(named);
    start(boat, 0, [9.8]);
    start(boat, 10, [9.8]);
    expect(boat.changedAt(SIGNAL)).toBe(13);
  });

  test("are told for a start that fails", () => {
    const boat = new TalkingBoat(named);
    speed(boat, 0, 0);
    speed(boat, 1, 120);
    battery(boat, 1.2, 1, 9.1);
    speed(boat, 2, 0);
    expect(boat.read(SIGNAL)).toBe("9.1 good");
  });

  test("go on while the engine's own gateway has dropped out", () => {
    const boat = new TalkingBoat(named);
    speed(boat, 0, 0);
    speed(boat, 1, 180);
    speed(boat, 1.1, null);
    battery(boat, 1.4, 1, 8.2);
    speed(boat, 3, null);
    expect(boat.read(SIGNAL)).toBe("none");
    speed(boat, 3.5, 650);
    expect(boat.read(SIGNAL)).toBe("8.2 good");
  });

  test("are told of a start that the engine's own gateway slept through, and of nothing else", () => {
    const boat = new TalkingBoat(named);
    const slept = (at: number, back: number, rpm: number) => {
      speed(boat, at, 0);
      speed(boat, at + 0.1, null);
      battery(boat, at + 1, 1, 8.4);
      battery(boat, at + 4, 1, 12.8);
      speed(boat, at + back, rpm);
    };
    slept(0, 8, 0);
    slept(100, 21, 650);
    expect(boat.read(SIGNAL)).toBe("none");
    speed(boat, 200, 0);
    slept(201, 8, 650);
    expect(boat.read(SIGNAL)).toBe("8.4 good");
    expect(boat.changedAt(SIGNAL)).toBe(209);
  });

  test("end where an engine that is no longer heard is presumed stopped", () => {
    const boat = new TalkingBoat(named);
    speed(boat, 0, 180);
    battery(boat, 0.2, 1, 8.9);
    boat.pass(60);
    expect(boat.read(SIGNAL)).toBe("8.9 good");
  });
});
