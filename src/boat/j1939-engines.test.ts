import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";
import type { Key, Subject } from "./boat.ts";

function engine(name: string, key: Omit<Key, "quantity">): Subject {
  const keys = [{ quantity: "self", ...key }];
  return { group: "engine", name, keys, words: {}, numbers: {}, relations: {} };
}

describe("engines that speak J1939", () => {
  test("twins that both have address 0 are told apart by their buses", () => {
    const boat = new TalkingBoat();
    boat.say(0, 61444, { speed: 700 }, { source: 0, bus: "can1" });
    boat.say(0, 61444, { speed: 900 }, { source: 0, bus: "can2" });
    expect(boat.read("engine/can1-0/speed")).toBe("700 good");
    expect(boat.read("engine/can2-0/speed")).toBe("900 good");
    expect(boat.signals.contested()).toEqual([]);
  });

  test("are named by bus and address, which no instance of NMEA 2000 answers to", () => {
    const boat = new TalkingBoat({
      subjects: [
        engine("port", { instance: 0 }),
        engine("wing", { bus: "can1", address: 0 }),
      ],
    });
    boat.say(0, 61444, { speed: 700 }, { source: 0, bus: "can1" });
    boat.say(0, 61444, { speed: 800 }, { source: 1, bus: "can1" });
    boat.say(0, 127488, { instance: 0, speed: 900 }, { source: 0, bus: "can0" });
    expect(boat.read("engine/wing/speed")).toBe("700 good");
    expect(boat.read("engine/can1-1/speed")).toBe("800 good");
    expect(boat.read("engine/port/speed")).toBe("900 good");
    expect(boat.read("engine/wing/condition")).toBe("idling good");
  });

  test("their buses are no second NMEA 2000 bus", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 900 }, { bus: "can0" });
    boat.say(0, 61444, { speed: 700 }, { source: 0, bus: "can1" });
    boat.say(1, 127508, { instance: 0, voltage: 12.5 }, { bus: "can0" });
    expect(boat.read("battery/0/voltage")).toBe("12.5 good");
  });

  test("the gearbox on an engine's own bus is that engine's", () => {
    const boat = new TalkingBoat({ subjects: [engine("wing", { bus: "can1", address: 0 })] });
    boat.say(0, 65272, { "oil-pressure": 1_600_000 }, { source: 3, bus: "can1" });
    boat.say(0, 65272, { "oil-pressure": 1_600_000 }, { source: 3, bus: "can2" });
    expect(boat.read("gearbox/wing/oil-pressure")).toBe("1600000 good");
    expect(boat.read("gearbox/can2-3/oil-pressure")).toBe("1600000 good");
  });
});

/** The bytes of a published DM1: lamps, and 609-19, 1569-31, 4334-4. */
const THREE_CODES = "11 CD 61 02 13 00 21 06 1F 00 EE 10 04 00";
const NO_CODES = "00 FF 00 00 00 00 FF FF";
const ONE_CODE = "04 FF 64 00 01 81 FF FF";

describe("trouble codes", () => {
  test("become bits when they are first active, and 0 when they are gone", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 65226, NO_CODES, { source: 0 });
    expect(boat.names().filter((name) => name.includes("fault"))).toEqual([]);
    boat.sayBytes(1, 65226, ONE_CODE, { source: 0 });
    expect(boat.read("engine/can0-0/fault/100-1")).toBe("1 good");
    expect(boat.signals.carried()).toContain(
      boat.signals.table.find("engine/can0-0/fault/100-1"),
    );
    boat.sayBytes(2, 65226, NO_CODES, { source: 0 });
    expect(boat.read("engine/can0-0/fault/100-1")).toBe("0 good");
  });

  // SAE J1939-73; the test suite of the MIT-licensed "j1939-84" project.
  test("come with the lamps in words", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 65226, THREE_CODES, { source: 0 });
    expect(boat.names().filter((name) => name.includes("fault"))).toEqual([
      "engine/can0-0/fault/609-19",
      "engine/can0-0/fault/1569-31",
      "engine/can0-0/fault/4334-4",
    ]);
    expect(boat.read("engine/can0-0/red-stop-lamp")).toBe("slow-flash good");
    expect(boat.read("engine/can0-0/malfunction-lamp")).toBe("off good");
    expect(boat.read("engine/can0-0/amber-warning-lamp")).toBe("off good");
    expect(boat.read("engine/can0-0/protect-lamp")).toBe("fast-flash good");
  });

  test("grow old while they are active; an empty list is not repeated and does not", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 65226, ONE_CODE, { source: 0 });
    boat.pass(3);
    expect(boat.read("engine/can0-0/fault/100-1")).toBe("bad not-heard");
    boat.sayBytes(4, 65226, NO_CODES, { source: 0 });
    boat.pass(4000);
    expect(boat.read("engine/can0-0/fault/100-1")).toBe("0 good");
    expect(boat.read("engine/can0-0/protect-lamp")).toBe("off good");
  });

  test("of another controller are not the engine's", () => {
    const boat = new TalkingBoat();
    boat.sayBytes(0, 65226, ONE_CODE, { source: 3 });
    expect(boat.read("controller/can0-3/fault/100-1")).toBe("1 good");
    expect(boat.signals.table.subjectsOf("engine")).toEqual([]);
  });

  test("that are made up fill no memory", () => {
    const boat = new TalkingBoat();
    for (let spn = 1; spn < 200; spn++) {
      const hex = spn.toString(16).padStart(2, "0");
      boat.sayBytes(spn, 65226, `00 FF ${hex} 00 01 01 FF FF`, { source: 0 });
    }
    expect(boat.names().filter((name) => name.includes("fault"))).toHaveLength(32);
  });
});
