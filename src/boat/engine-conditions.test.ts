import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";
import type { WireValue } from "../nmea2000/encode.ts";

function run(boat: TalkingBoat, from: number, to: number, speed: WireValue): void {
  for (let tick = Math.round(from * 10); tick < Math.round(to * 10); tick++) {
    boat.say(tick / 10, 127488, { instance: 0, speed });
  }
}

describe("key-off at 650 rpm (situation 2)", () => {
  test("the gateway dies: bad when the speed is, presumed stopped 3 s after the last frame", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 650);
    expect(boat.read("engine/0/condition")).toBe("idling good");
    boat.pass(5.9);
    expect(boat.read("engine/0/condition")).toBe("bad not-heard");
    boat.pass(7.899999);
    expect(boat.read("engine/0/condition")).toBe("bad not-heard");
    boat.pass(60);
    expect(boat.read("engine/0/condition")).toBe("stopped-presumed good");
    expect(boat.changedAt("engine/0/condition")).toBe(7.9);
  });

  test("the gateway goes on with 'not available': the same instant", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 650);
    run(boat, 5, 7.9, null);
    expect(boat.read("engine/0/condition")).toBe("bad not-available");
    run(boat, 7.9, 20, null);
    expect(boat.read("engine/0/condition")).toBe("stopped-presumed good");
    expect(boat.changedAt("engine/0/condition")).toBe(7.9);
  });

  test("the gateway goes on for a second and then dies: the same instant", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 650);
    run(boat, 5, 6, null);
    boat.pass(60);
    expect(boat.read("engine/0/speed")).toBe("bad not-heard");
    expect(boat.changedAt("engine/0/condition")).toBe(7.9);
  });
});

describe("the sender lost at 3,000 rpm", () => {
  test("the gateway dies: a minute of not knowing, then presumed stopped", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 3000);
    boat.pass(65.8);
    expect(boat.read("engine/0/condition")).toBe("bad not-heard");
    boat.pass(80);
    expect(boat.read("engine/0/condition")).toBe("stopped-presumed good");
    expect(boat.changedAt("engine/0/condition")).toBe(65.9);
  });

  test("the gateway goes on with 'not available': a minute from the first of them", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 3000);
    run(boat, 5, 65, null);
    expect(boat.read("engine/0/condition")).toBe("bad not-available");
    boat.pass(80);
    expect(boat.read("engine/0/condition")).toBe("stopped-presumed good");
    expect(boat.changedAt("engine/0/condition")).toBe(65);
  });

  test("heard again within the minute it goes on running", () => {
    const boat = new TalkingBoat();
    run(boat, 0, 5, 3000);
    boat.pass(20);
    run(boat, 20, 90, 3000);
    expect(boat.read("engine/0/condition")).toBe("running good");
  });
});

test("an engine whose speed was never good is not presumed stopped", () => {
  const boat = new TalkingBoat();
  run(boat, 0, 5, null);
  boat.pass(200);
  expect(boat.read("engine/0/condition")).toBe("bad not-available");
});

test("the condition changes only when its word or its quality does", () => {
  const boat = new TalkingBoat();
  run(boat, 0, 1, 700);
  run(boat, 1, 1.5, 280);
  run(boat, 1.5, 2, 0);
  expect(boat.read("engine/0/condition")).toBe("stopped good");
  expect(boat.changedAt("engine/0/condition")).toBe(1);
});
