import { readBoatFile } from "./boat-file.ts";
import { describe, expect, test } from "vitest";
import { MORNING, TalkingBoat } from "../../tests/support/talking-boat.ts";
import { SECOND } from "../ground/time.ts";
import type { Subject } from "./boat.ts";

function subject(group: string, name: string, key: Partial<Subject["keys"][number]>): Subject {
  return {
    group,
    name,
    keys: [{ quantity: "self", ...key }],
    words: {},
    numbers: {},
    relations: {},
  };
}

describe("without a boat file", () => {
  test("an engine is called by its instance, in the units of the contract", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 1800.25, "boost-pressure": 120_000, trim: -5 });
    boat.say(0, 127489, {
      "instance": 0,
      "oil-pressure": 345_000,
      "coolant-temperature": 353.15,
      "hours": 5400,
      "status-1": ["low-oil-pressure"],
      "status-2": [],
    });
    expect(boat.read("engine/0/speed")).toBe("1800.25 good");
    expect(boat.read("engine/0/trim")).toBe("-5 good");
    expect(boat.read("engine/0/oil-pressure")).toBe("345000 good");
    expect(boat.read("engine/0/coolant-temperature")).toBe("80 good");
    expect(boat.read("engine/0/hours")).toBe("1.5 good");
    expect(boat.read("engine/0/fuel-rate")).toBe("bad not-available");
    expect(boat.read("engine/0/status/low-oil-pressure")).toBe("1 good");
    expect(boat.read("engine/0/status/over-temperature")).toBe("0 good");
    expect(boat.read("engine/0/status/maintenance-needed")).toBe("0 good");
  });

  test("DC sources are called by their type, so that solar 0 is not battery 0", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127506, { "instance": 0, "type": "battery", "state-of-charge": 80 });
    boat.say(0, 127506, { "instance": 0, "type": "solar-cell", "state-of-charge": 7 });
    boat.say(0, 127506, { "instance": 0, "type": { raw: 77 }, "state-of-charge": 9 });
    expect(boat.read("battery/0/state-of-charge")).toBe("80 good");
    expect(boat.read("solar/0/state-of-charge")).toBe("7 good");
    expect(boat.signals.table.subjectsOf("battery")).toEqual(["0"]);
  });

  test("tanks are called by fluid and instance, the rest as the contract has it", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127505, { instance: 0, fluid: "fuel", level: 62.5, capacity: 400 });
    boat.say(0, 127507, { "instance": 0, "operating-state": "bulk", "enabled": "on" });
    boat.say(0, 127508, { instance: 1, voltage: 12.65, current: -3.2 });
    boat.say(0, 129025, { latitude: 50.4, longitude: -7.9 });
    boat.say(0, 129026, {
      "course-reference": "true",
      "course-over-ground": Math.PI / 2,
      "speed-over-ground": 3,
    });
    boat.say(0, 128267, { depth: 4.2 });
    boat.say(0, 130306, { "wind-reference": "apparent", "wind-speed": 8, "wind-angle": 1 });
    boat.say(0, 130306, { "wind-reference": "true-boat", "wind-speed": 6, "wind-angle": 2 });
    expect(boat.read("tank/fuel-0/level")).toBe("62.5 good");
    expect(boat.read("charger/0/operating-state")).toBe("bulk good");
    expect(boat.read("charger/0/charge-mode")).toBe("bad not-available");
    expect(boat.read("charger/0/enabled")).toBe("on good");
    expect(boat.read("battery/1/voltage")).toBe("12.65 good");
    expect(boat.read("battery/1/current")).toBe("-3.2 good");
    expect(boat.read("position/latitude")).toBe("50.4 good");
    expect(boat.read("course/over-ground")).toMatch(/^90\.00/);
    expect(boat.read("speed/over-ground")).toBe("3 good");
    expect(boat.read("sounder/main/depth")).toBe("4.2 good");
    expect(boat.read("wind/apparent-speed")).toBe("8 good");
    expect(boat.read("wind/true-speed")).toBe("6 good");
  });

  test("an instance that is not available names nothing", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { speed: 700 });
    expect(boat.names()).toEqual([]);
    expect(boat.signals.binder.unbound).toEqual([
      { bus: 0, source: 1, pgn: 127488, why: "no-instance" },
    ]);
  });

  test("no name becomes another when a second bus speaks late: what it brings carries its name", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    boat.say(20, 127488, { instance: 0, speed: 800 }, { bus: "can1" });
    boat.say(20.1, 127488, { instance: 0, speed: 710 }, { bus: "can0" });
    expect(boat.read("engine/0/speed")).toBe("710 good");
    expect(boat.read("engine/can1-0/speed")).toBe("800 good");
    expect(boat.read("network/can0/unnamed")).toBe("1 good");
    expect(boat.read("network/can1/unnamed")).toBe("1 good");
  });

  test("of two buses the one is no matter of a caution that the boat file names", () => {
    const main = { name: "main", bus: "can0", speaks: "nmea2000", powered: "always" } as const;
    const boat = new TalkingBoat({ networks: [{ ...main, bitRate: 250_000 }] });
    boat.say(0, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    boat.say(0.1, 127488, { instance: 0, speed: 800 }, { bus: "can1" });
    expect(boat.read("network/can0/unnamed")).toBe("none");
    expect(boat.read("network/can1/unnamed")).toBe("1 good");
  });

  test("where inputs name two buses, each stands before the number from the first message on", () => {
    const boat = new TalkingBoat();
    for (const bus of ["can0", "can1"]) boat.busNames.give(bus);
    boat.say(0, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    boat.say(60, 127488, { instance: 0, speed: 800 }, { bus: "can1" });
    expect(boat.signals.table.subjectsOf("engine")).toEqual(["can0-0", "can1-0"]);
    expect(boat.names().filter((name) => name.startsWith("network/"))).toEqual([]);
  });

  test("an input without a name is a bus too, so that two of them never rename anything", () => {
    const boat = new TalkingBoat();
    boat.busNames.give("can0");
    boat.busNames.nameless++;
    boat.say(0, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    expect(boat.signals.table.subjectsOf("engine")).toEqual(["can0-0"]);
  });

  test("J1939 engines beside one bus of NMEA 2000 make it no second one", () => {
    const boat = new TalkingBoat();
    boat.say(0, 61444, { speed: 700 }, { bus: "can1", source: 0 });
    boat.say(0.1, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    expect(boat.names().filter((name) => /^engine.*speed|^network/.test(name)))
      .toEqual(["engine/can1-0/speed", "engine/0/speed"]);
  });

  test("two buses of the boat file stand before the number from the first message on", () => {
    const network = { speaks: "nmea2000", powered: "always", bitRate: 250_000 } as const;
    const boat = new TalkingBoat({
      networks: [
        { ...network, name: "main", bus: "can0" },
        { ...network, name: "flybridge", bus: "can1" },
      ],
    });
    boat.say(0, 127488, { instance: 0, speed: 700 });
    expect(boat.signals.table.subjectsOf("engine")).toEqual(["can0-0"]);
  });

  test("a bus of which the boat file says that it speaks J1939 is not a second one", () => {
    const networks = [
      {
        name: "port-engine",
        bus: "can1",
        speaks: "j1939",
        powered: "with-helm",
        bitRate: 500_000,
      } as const,
    ];
    const boat = new TalkingBoat({ networks });
    boat.say(0, 127488, { instance: 1, speed: 800 }, { bus: "can1" });
    boat.say(0, 127488, { instance: 0, speed: 700 }, { bus: "can0" });
    expect(boat.read("engine/0/speed")).toBe("700 good");
  });
});

describe("values", () => {
  test("codes out of range and codes without a word are bad, not numbers", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: { raw: 0xfffe } });
    boat.say(0, 127507, { "instance": 0, "operating-state": { raw: 12 } });
    expect(boat.read("engine/0/speed")).toBe("bad out-of-range");
    expect(boat.read("charger/0/operating-state")).toBe("bad out-of-range");
  });

  test("what cannot be, such as a coolant at absolute zero, is bad, at first and later", () => {
    const boat = new TalkingBoat();
    const say = (at: number, raw: number) =>
      boat.say(at, 127489, { "instance": 0, "coolant-temperature": { raw } });
    say(0, 0);
    expect(boat.read("engine/0/coolant-temperature")).toBe("bad implausible");
    say(0.5, 35315);
    expect(boat.read("engine/0/coolant-temperature")).toBe("80 good");
    say(1, 0);
    expect(boat.read("engine/0/coolant-temperature")).toBe("bad implausible");
    say(1.5, 65000);
    expect(boat.read("engine/0/coolant-temperature")).toBe("bad implausible");
  });

  test("a short message yields the fields that it has and makes no others", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 700 }, { length: 3 });
    expect(boat.names()).toEqual(["engine/0/speed", "engine/0/condition"]);
    expect(boat.signals.carried().map((signal) => boat.names()[signal])).toEqual([
      "engine/0/speed",
    ]);
  });

  test("a field that is no longer sent does not stay as it was", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127488, { instance: 0, speed: 700, trim: 3 });
    boat.say(0.1, 127488, { instance: 0, speed: 700 }, { length: 3 });
    expect(boat.read("engine/0/trim")).toBe("bad not-available");
  });

  test("the same bits again change nothing but the time heard", () => {
    const boat = new TalkingBoat();
    const { table } = boat.signals;
    boat.say(0, 127508, { instance: 0, voltage: 12.6 });
    table.clearFresh();
    table.clearTouched();
    boat.say(1, 127508, { instance: 0, voltage: 12.6 });
    expect(table.freshCount + table.touchedCount).toBe(0);
    expect(table.heardAt(table.find("battery/0/voltage"))).toBe(MORNING + SECOND);
    expect(boat.changedAt("battery/0/voltage")).toBe(0);
  });

  test("status words of ones: every bit is bad; of zeros: every bit is 0 and good", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127489, { instance: 0 });
    boat.say(0, 127489, { "instance": 1, "status-1": [], "status-2": [] }, { source: 2 });
    const bits = boat.names().filter((name) => name.startsWith("engine/0/status/"));
    expect(bits).toHaveLength(24);
    for (const name of bits) {
      expect(boat.read(name)).toBe("bad not-available");
      expect(boat.read(name.replace("/0/", "/1/"))).toBe("0 good");
    }
  });

  test("decimals are those of field and unit", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127489, { instance: 0 });
    boat.say(0, 129025, { latitude: 1, longitude: 2 });
    const decimals = Object.fromEntries(
      boat.signals.table.facts.map((facts) => [facts.quantity, facts.decimals]),
    );
    expect(decimals).toMatchObject({
      "oil-pressure": 0,
      "oil-temperature": 2,
      "coolant-temperature": 2,
      "alternator-voltage": 2,
      "fuel-rate": 1,
      "hours": 6,
      "latitude": 7,
    });
  });
});

describe("with a boat file", () => {
  test("subjects carry its names, generators included", () => {
    const boat = new TalkingBoat({
      subjects: [
        subject("engine", "port", { instance: 0 }),
        subject("generator", "main", { instance: 2 }),
        subject("tank", "fuel-port", { fluid: "fuel", instance: 0 }),
      ],
    });
    expect(boat.signals.table.subjectsOf("engine")).toEqual(["port"]);
    boat.say(0, 127488, { instance: 0, speed: 700 });
    boat.say(0, 127488, { instance: 2, speed: 1500 }, { source: 2 });
    boat.say(0, 127505, { instance: 0, fluid: "fuel", level: 50 }, { source: 3 });
    boat.say(0, 127505, { instance: 0, fluid: "water", level: 60 }, { source: 3 });
    expect(boat.read("engine/port/speed")).toBe("700 good");
    expect(boat.read("generator/main/condition")).toBe("running good");
    expect(boat.read("tank/fuel-port/level")).toBe("50 good");
    expect(boat.read("tank/water-0/level")).toBe("60 good");
  });

  test("indicators of a bank become what the owner calls them; those that say nothing are none", () => {
    const boat = new TalkingBoat({
      subjects: [
        subject("bilge", "aft", { quantity: "pump", instance: 0, indicator: 3 }),
        subject("switch", "cabin-lights", {
          quantity: "state",
          instance: 0,
          indicator: 7,
          inverted: true,
        }),
      ],
    });
    boat.say(0, 127501, {
      "instance": 0,
      "indicator-3": "on",
      "indicator-7": "on",
      "indicator-9": "off",
      "indicator-10": { raw: 2 },
    });
    expect(boat.names()).toEqual([
      "bilge/aft/pump",
      "switch/cabin-lights/state",
      "switch/0/9",
      "switch/0/10",
    ]);
    expect(boat.read("bilge/aft/pump")).toBe("on good");
    expect(boat.read("switch/cabin-lights/state")).toBe("off good");
    expect(boat.read("switch/0/9")).toBe("off good");
    expect(boat.read("switch/0/10")).toBe("bad out-of-range");
    boat.say(1, 127501, { "instance": 0, "indicator-3": "on" });
    expect(boat.read("switch/0/9")).toBe("bad not-available");
  });

  test("a detector says by a second contact that it is out of order itself", () => {
    const text = "detectors: { engine-room: { instance: 1, indicator: 1, senses: petrol-vapour, " +
      "fault-contact: { instance: 1, indicator: 9, inverted: yes } } }\n";
    const boat = new TalkingBoat(readBoatFile("boat.yaml", text).boat);
    boat.say(0, 127501, { "instance": 1, "indicator-1": "off", "indicator-9": "off" });
    expect(boat.read("detector/engine-room/alarm")).toBe("off good");
    expect(boat.read("detector/engine-room/fault-contact")).toBe("on good");
  });

  test("engines at one instance are told apart by device, once it is known who sends what", () => {
    const boat = new TalkingBoat({
      devices: [{ name: "starboard-interface", serial: "A-2", watchAlways: false }],
      subjects: [
        subject("engine", "port", { instance: 0 }),
        subject("engine", "starboard", { instance: 0, device: "starboard-interface" }),
      ],
    });
    const both = (at: number) => {
      boat.say(at, 127488, { instance: 0, speed: 700 }, { source: 1 });
      boat.say(at, 127488, { instance: 0, speed: 900 }, { source: 2 });
    };
    both(0);
    expect(boat.names()).toEqual([]);
    expect(boat.signals.binder.unbound.map(({ source, why }) => [source, why])).toEqual([
      [1, "undecided"],
      [2, "undecided"],
    ]);
    boat.claim(0.1, 1, 77);
    boat.claim(0.1, 2, 78);
    boat.introduce(0.2, 1, "A-1");
    boat.introduce(0.2, 2, "A-2");
    both(0.3);
    expect(boat.read("engine/port/speed")).toBe("700 good");
    expect(boat.read("engine/starboard/speed")).toBe("900 good");
    expect(boat.signals.contested()).toEqual([]);
  });

  test("two banks of one number are told apart where the owner says whose an indicator is", () => {
    const boat = new TalkingBoat({
      devices: [{ name: "bow-panel", serial: "B-1", watchAlways: false }],
      subjects: [
        subject("bilge", "bow", {
          quantity: "pump",
          instance: 0,
          indicator: 1,
          device: "bow-panel",
        }),
      ],
    });
    boat.claim(0, 1, 77);
    boat.claim(0, 2, 78);
    boat.introduce(0, 1, "B-1");
    boat.introduce(0, 2, "B-2");
    boat.say(0, 127501, { "instance": 0, "indicator-1": "on", "indicator-2": "on" });
    boat.say(0, 127501, { "instance": 0, "indicator-1": "off" }, { source: 2 });
    expect(boat.read("bilge/bow/pump")).toBe("on good");
    expect(boat.read("switch/bow-panel-0/2")).toBe("on good");
    expect(boat.read("switch/0/1")).toBe("off good");
  });

  test("the span of a battery's voltage follows its nominal voltage", () => {
    const boat = new TalkingBoat({
      subjects: [{ ...subject("battery", "bow", { instance: 1 }), numbers: { nominal: 24 } }],
    });
    boat.say(0, 127508, { instance: 0, voltage: 12 });
    boat.say(0, 127508, { instance: 1, voltage: 24 });
    const { table } = boat.signals;
    expect(table.facts[table.find("battery/0/voltage")].span).toBe(2);
    expect(table.facts[table.find("battery/bow/voltage")].span).toBe(4);
  });
});

describe("old age", () => {
  test("three usual periods after the last message a value is bad, at that instant", () => {
    const boat = new TalkingBoat();
    boat.say(0, 127508, { instance: 0, voltage: 12.6 });
    boat.say(1.5, 127508, { instance: 0, voltage: 12.6 });
    boat.pass(5.999999);
    expect(boat.read("battery/0/voltage")).toBe("12.6 good");
    boat.pass(100);
    expect(boat.read("battery/0/voltage")).toBe("bad not-heard");
    expect(boat.changedAt("battery/0/voltage")).toBe(6);
    expect(boat.signals.nextDue).toBe(Infinity);
    expect(boat.signals.oldAgeOf(boat.signals.table.find("battery/0/voltage"))).toBe(4.5 * SECOND);
  });

  test("it is at least a second", () => {
    const boat = new TalkingBoat();
    boat.say(0, 129025, { latitude: 50, longitude: 0 });
    boat.pass(0.999999);
    expect(boat.read("position/latitude")).toBe("50 good");
    boat.pass(1);
    expect(boat.read("position/latitude")).toBe("bad not-heard");
  });

  test("the same bits after it are good again", () => {
    const boat = new TalkingBoat();
    boat.say(0, 129025, { latitude: 50, longitude: 0 });
    boat.say(10, 129025, { latitude: 50, longitude: 0 });
    expect(boat.read("position/latitude")).toBe("50 good");
    boat.pass(11);
    expect(boat.read("position/latitude")).toBe("bad not-heard");
  });
});
