import { describe, expect, test } from "vitest";
import { ControllerError, ErrorClass } from "../../bus/error-kinds.ts";
import { ListeningBoat } from "../../../tests/support/listening-boat.ts";

/** An engine gateway, ten messages a second. */
function talk(boat: ListeningBoat, from: number, to: number, bus = "can0"): void {
  for (let tick = Math.round(from * 10); tick < Math.round(to * 10); tick++) {
    boat.say(tick / 10, 127488, { instance: 0, speed: 700 }, { bus });
  }
}

const always = { name: "shunt", serial: "S-1", watchAlways: true };

describe("the health of a bus", () => {
  test("frames and load are those of the last whole second", () => {
    const boat = new ListeningBoat();
    talk(boat, 0.5, 2.5);
    expect(boat.read("network/can0/frames")).toBe("10 good");
    // Ten frames of 131 to 160 bits at 250 kbit/s.
    expect(boat.read("network/can0/load")).toMatch(/^0\.[56] good$/);
  });

  test("has the network's name and bit rate from the boat file", () => {
    const network = { name: "wing-engine", bus: "can1", speaks: "j1939", powered: "with-helm" };
    const boat = new ListeningBoat({
      networks: [{ ...network, speaks: "j1939", powered: "with-helm", bitRate: 2500 }],
    });
    talk(boat, 0, 3, "can1");
    expect(boat.read("network/wing-engine/load")).toMatch(/^5\d(\.\d)? good$/);
  });

  test("a network of the boat file that nobody hears has no frames, heard of others or of none", () => {
    const dead = { name: "main", bus: "can1", speaks: "nmea2000", powered: "always" } as const;
    const networks = [{ ...dead, bitRate: 250_000 }];
    const silent = new ListeningBoat({ networks });
    silent.pass(0);
    silent.pass(2);
    expect(silent.read("network/main/frames")).toBe("0 good");
    expect(silent.read("network/main/load")).toBe("none");
    expect(silent.health.nextDue).toBe(Infinity);
    talk(silent, 3600, 3602.5, "can1");
    expect(silent.read("network/main/frames")).toBe("10 good");

    const beside = new ListeningBoat({ networks });
    talk(beside, 0, 2.5, "can0");
    expect(beside.read("network/can0/frames")).toBe("10 good");
    expect(beside.read("network/main/frames")).toBe("0 good");
  });

  test("a bus that falls silent has none, and then no timer", () => {
    const boat = new ListeningBoat();
    talk(boat, 0, 3);
    boat.pass(5);
    expect(boat.read("network/can0/frames")).toBe("0 good");
    boat.pass(3600);
    expect(boat.health.nextDue).toBe(Infinity);
    talk(boat, 3600, 3602.5);
    expect(boat.read("network/can0/frames")).toBe("10 good");
    expect(boat.read("network/can0/gaps")).toBe("1 good");
  });

  test("a recording with a gap of half a century takes no longer than any other", () => {
    const boat = new ListeningBoat();
    talk(boat, 0, 3);
    const years = 50 * 365 * 86_400;
    talk(boat, years, years + 2.5);
    expect(boat.read("network/can0/frames")).toBe("10 good");
  });

  test("error frames are not judged within 30 s of power-up, and counted after", () => {
    const boat = new ListeningBoat();
    for (let second = 0; second < 60; second++) {
      talk(boat, second, second + 0.5);
      for (let i = 0; i < 12; i++) boat.error(second + 0.6);
      const expected = second <= 30 ? "bad not-available" : "12 good";
      if (second > 1) expect(boat.read("network/can0/error-frames")).toBe(expected);
    }
  });

  test("error frames of an adapter that is too slow are none of the wiring's", () => {
    const boat = new ListeningBoat();
    for (let second = 0; second < 40; second++) {
      talk(boat, second, second + 0.5);
      boat.error(second + 0.6, "can0", ErrorClass.controller, [0, ControllerError.receiveOverflow]);
    }
    expect(boat.read("network/can0/error-frames")).toBe("0 good");
  });

  test("an adapter that leaves the bus is told until it is heard again, also while all is silent", () => {
    const boat = new ListeningBoat();
    const busOff = () => boat.read("network/can0/bus-off");
    talk(boat, 0, 3);
    boat.pass(4);
    expect(busOff()).toBe("0 good");
    boat.error(4.5, "can0", ErrorClass.busOff);
    boat.pass(5);
    expect(busOff()).toBe("1 good");
    boat.pass(3600);
    expect(busOff()).toBe("1 good");
    talk(boat, 3600, 3602.5);
    expect(busOff()).toBe("0 good");

    boat.error(3603.5, "can0", ErrorClass.busOff);
    boat.pass(3604);
    expect(busOff()).toBe("1 good");
    boat.error(3604.5, "can0", ErrorClass.restarted);
    boat.pass(3605);
    expect(busOff()).toBe("0 good");
  });

  test("situation 12: messages with holes are lost, and counted for each second", () => {
    const boat = new ListeningBoat();
    for (let tenth = 0; tenth < 400; tenth++) {
      const lost = tenth % 5 === 0;
      const oil = { "instance": 0, "oil-pressure": 300_000 };
      boat.say(tenth / 10, 127489, oil, { leaveOut: lost ? 1 : -1 });
    }
    boat.pass(40);
    expect(boat.read("network/can0/lost-messages")).toBe("2 good");
    expect(boat.read("engine/0/oil-pressure")).toBe("300000 good");
  });

  test("tells the lowest supply that a device tells of itself", () => {
    const boat = new ListeningBoat();
    const volts = (at: number, key: number | null) =>
      boat.say(at, 65271, { "key-switch-voltage": key }, { source: 0 });
    volts(0, 12.5);
    volts(1, 8.35);
    boat.pass(2);
    expect(boat.read("network/can0/voltage")).toBe("8.35 good");
    expect(boat.read("network/can0/frames")).toBe("1 good");
  });
});

describe("two devices with one address", () => {
  test("what comes from there is uncertain, once they had the time to come to terms", () => {
    const boat = new ListeningBoat();
    const both = (at: number) => {
      boat.claim(at, 1, 100);
      boat.claim(at + 0.05, 1, 200);
      boat.say(at + 0.1, 127488, { instance: 0, speed: 700 });
    };
    for (let second = 0; second < 30; second++) both(second);
    expect(boat.read("engine/0/speed")).toBe("700 good");
    expect(boat.read("network/can0/address-conflicts")).toBe("0 good");
    for (let second = 30; second < 35; second++) both(second);
    expect(boat.read("engine/0/speed")).toBe("700 uncertain two-senders");
    expect(boat.read("network/can0/address-conflicts")).toBe("1 good");
    // One of them gives way.
    boat.claim(36, 9, 200);
    boat.pass(36.9);
    boat.say(37.1, 127488, { instance: 0, speed: 700 });
    expect(boat.read("engine/0/speed")).toBe("700 good");
    expect(boat.read("network/can0/address-conflicts")).toBe("0 good");
  });

  test("situation 3: claims in another order at power-up are no conflict, and names are kept", () => {
    const boat = new ListeningBoat();
    boat.claim(0, 1, 100);
    boat.claim(0, 2, 200);
    const speeds = (at: number, port: number, starboard: number) => {
      boat.say(at, 127488, { instance: 0, speed: 700 }, { source: port });
      boat.say(at, 127488, { instance: 1, speed: 800 }, { source: starboard });
    };
    for (let at = 0.1; at < 5; at += 0.1) speeds(at, 1, 2);
    // The starter pulls the bus down: all begin anew, and two have swapped their addresses.
    boat.claim(9, 2, 100);
    boat.claim(9.01, 1, 200);
    for (let at = 9.1; at < 60; at += 0.1) speeds(at, 2, 1);
    expect(boat.read("engine/0/speed")).toBe("700 good");
    expect(boat.read("engine/1/speed")).toBe("800 good");
    expect(boat.read("network/can0/address-conflicts")).toBe("0 good");
    expect(boat.signals.contested()).toEqual([]);
  });
});

describe("a device that the owner wants to hear at all times", () => {
  const shunt = (boat: ListeningBoat, at: number) =>
    boat.say(at, 127508, { instance: 0, voltage: 12.8 }, { source: 4 });
  const introduce = (boat: ListeningBoat, at: number) => {
    boat.claim(at, 4, 400);
    boat.say(at, 126996, { serial: "S-1" }, { source: 4 });
  };

  test("is missed three minutes after its last word, and not before", () => {
    const boat = new ListeningBoat({ devices: [always] });
    introduce(boat, 0);
    for (let at = 1; at < 60; at += 1.5) shunt(boat, at);
    talk(boat, 60, 300);
    expect(boat.read("watched-device/shunt/not-heard")).toBe("1 good");
    boat.pass(400);
    shunt(boat, 401);
    boat.pass(402);
    expect(boat.read("watched-device/shunt/not-heard")).toBe("0 good");
  });

  test("is missed on a bus that is dead, and then no timer is left", () => {
    const boat = new ListeningBoat({ devices: [always] });
    introduce(boat, 0);
    boat.pass(100);
    expect(boat.read("watched-device/shunt/not-heard")).toBe("0 good");
    boat.pass(400);
    expect(boat.read("watched-device/shunt/not-heard")).toBe("1 good");
    expect(boat.health.nextDue).toBe(Infinity);
  });

  test("is not missed while somebody speaks who may be it", () => {
    const late = new ListeningBoat({ devices: [always] });
    for (let at = 0; at < 300; at += 1.5) shunt(late, at);
    expect(late.read("watched-device/shunt/not-heard")).toBe("bad not-available");
  });

  test("is known again by a listener that comes late, from what an earlier run remembers", () => {
    const early = new ListeningBoat({ devices: [always] });
    introduce(early, 0);
    const late = new ListeningBoat({ devices: [always] }, early.devices.memory(early.busNames));
    for (let at = 0; at < 10; at += 1.5) shunt(late, at);
    expect(late.read("watched-device/shunt/not-heard")).toBe("0 good");
  });
});

describe("the computer's clock", () => {
  test("is so many seconds slow as the bus has said for a minute", () => {
    const boat = new ListeningBoat();
    const said = (at: number, ahead: number) => {
      const seconds = 10 * 3600 + at + ahead;
      boat.say(at, 126992, { "time-source": "gps", "date": 20_618, "time": seconds });
    };
    for (let at = 0; at < 60; at++) said(at, 90);
    expect(boat.read("computer/clock-offset")).toBe("bad not-available");
    for (let at = 60; at < 65; at++) said(at, 90);
    expect(boat.read("computer/clock-offset")).toBe("90 good");
    boat.pass(80);
    expect(boat.read("computer/clock-offset")).toBe("bad not-available");
  });
});
