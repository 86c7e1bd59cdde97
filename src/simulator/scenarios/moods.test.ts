import { describe, expect, test } from "vitest";
import { between, mean, of, samples, told } from "../../../tests/support/said.ts";
import type { OutgoingMessage } from "../message-encoder.ts";
import { MINUTE, SECOND } from "../../ground/time.ts";

const PSI = 6894.757;
const KELVIN = 273.15;
/** Milliseconds that a long story may take on a busy machine. */
const A_WHILE = 60_000;

/** How often a contact closed. */
function closings(said: readonly OutgoingMessage[], indicator: string): number {
  const words = of(said, 127501).map(({ values }) => values[indicator]).filter((word) =>
    word !== undefined
  );
  return words.filter((word, i) => word === "on" && words[i - 1] === "off").length;
}

describe("batteries and what charges them", () => {
  test("a small bank sags by half a volt under a kettle and comes back", () => {
    const volts = samples(told("battery-sag"), 127508, "voltage", 0);
    const sag = mean(between(volts, 40, 58)) - mean(between(volts, 70, 170));
    expect(sag).toBeGreaterThan(0.4);
    expect(sag).toBeLessThan(1);
    expect(mean(between(volts, 190, 230))).toBeGreaterThan(12.3);
  });

  test("lithium gives a third of its charge within a tenth of a volt", () => {
    const said = told("lithium-plateau");
    const charge = samples(said, 127506, "state-of-charge", 0);
    expect(charge[0].value - charge.at(-1)!.value).toBeGreaterThan(28);
    const volts = samples(said, 127508, "voltage", 0);
    expect(mean(between(volts, 300, 400)) - mean(between(volts, 3500, 3600))).toBeLessThan(0.12);
  }, A_WHILE);

  test("the fridge takes 5 A for twelve minutes of every thirty-six", () => {
    const amperes = samples(told("fridge-cycles"), 127508, "current", 0);
    expect(mean(between(amperes, 60, 600))).toBeCloseTo(-6.2, 0);
    expect(mean(between(amperes, 760, 2100))).toBeCloseTo(-1.2, 0);
    expect(mean(between(amperes, 2200, 2800))).toBeCloseTo(-6.2, 0);
  }, A_WHILE);

  test("a charger at rest leaves a full bank above 13.3 V", () => {
    const said = told("charger-at-rest");
    expect(of(said, 127507).at(-1)?.values["operating-state"]).toBe("not-charging");
    expect(Math.min(...between(samples(said, 127508, "voltage", 0), 0, 2400))).toBeGreaterThan(
      13.3,
    );
  }, A_WHILE);

  test(
    "a charger that does not hold lets the bank discharge for an hour and more below 13.1 V",
    () => {
      const said = told("charger-does-not-hold");
      const late = (field: string) => between(samples(said, 127508, field, 0), 900, 4800);
      expect(Math.max(...late("voltage"))).toBeLessThan(13.1);
      expect(Math.max(...late("current"))).toBeLessThan(-20);
    },
    A_WHILE,
  );

  test("a charger without a regulator brings a full bank above 15.2 V", () => {
    const volts = samples(told("charger-overcharges"), 127508, "voltage", 0);
    expect(Math.max(...between(volts, 0, 180))).toBeLessThan(14.3);
    expect(Math.min(...between(volts, 300, 900))).toBeGreaterThan(15.2);
  });

  test("a start battery without its alternator stays below 12.9 V under way; with a bad regulator it passes 15.8", () => {
    const dead = samples(told("not-charging"), 127508, "voltage", 1);
    expect(mean(between(dead, 60, 115))).toBeGreaterThan(13);
    expect(Math.max(...between(dead, 200, 480))).toBeLessThan(12.9);
    const wild = samples(told("over-voltage"), 127508, "voltage", 1);
    expect(Math.min(...between(wild, 125, 300))).toBeGreaterThan(15.8);
  });

  test("a reversed shunt calls charging negative and counts backwards", () => {
    const said = told("shunt-reversed");
    expect(mean(between(samples(said, 127508, "current", 0), 100, 590))).toBeLessThan(-20);
    expect(mean(between(samples(said, 127508, "current", 0), 610, 1200))).toBeGreaterThan(20);
    const charge = between(samples(said, 127506, "state-of-charge", 0), 0, 590);
    expect(charge.at(-1)).toBeLessThan(charge[0]);
  });
});

describe("bilges and tanks", () => {
  test("a leak that grows makes the pump run more and more often", () => {
    const said = told("leak-grows");
    const late = said.filter((one) => one.time > 35 * MINUTE);
    const early = said.filter((one) => one.time < 20 * MINUTE);
    expect(closings(late, "indicator-3")).toBeGreaterThan(3 * closings(early, "indicator-3"));
    expect(closings(late, "indicator-3")).toBeGreaterThan(10);
  }, A_WHILE);

  test("a siphon makes the pump run every minute or so once it has run", () => {
    expect(closings(told("siphon"), "indicator-3")).toBeGreaterThan(20);
  }, A_WHILE);

  test("a loose float chatters without ever staying on for five seconds", () => {
    const said = of(told("float-chatter"), 127501);
    expect(closings(said, "indicator-4")).toBeGreaterThan(20);
    let closed: number | undefined;
    let longest = 0;
    for (const { time, values } of said) {
      if (closed !== undefined) longest = Math.max(longest, time - closed);
      if (values["indicator-4"] === "on") closed ??= time;
      else closed = undefined;
    }
    expect(longest / SECOND).toBeLessThan(5);
  }, A_WHILE);

  test(
    "a dead pump is on for many minutes and draws nothing; a choked one draws and lifts little",
    () => {
      const dead = told("pump-dead");
      expect(of(dead, 127501).at(-1)?.values["indicator-3"]).toBe("on");
      expect(Math.min(...samples(dead, 127508, "current", 0).map(({ value }) => value)))
        .toBeGreaterThan(-7);
      const choked = of(told("pump-choked"), 127501);
      const on = choked.filter(({ values }) => values["indicator-3"] === "on");
      expect(on.at(-1)!.time - on[0].time).toBeGreaterThan(4 * MINUTE);
    },
    A_WHILE,
  );

  test("reed senders know whole steps only, and jump between two in a rough sea", () => {
    const levels = samples(told("reed-senders"), 127505, "level").map(({ value }) => value);
    for (const level of new Set(levels)) {
      expect(Math.abs(level / 4.5 - Math.round(level / 4.5))).toBeLessThan(0.05);
    }
    const fuel = of(told("reed-senders"), 127505)
      .filter(({ values }) => values.fluid === "fuel" && values.instance === 0)
      .map(({ values }) => Number(values.level));
    const jumps = fuel.filter((level, i) => i > 0 && Math.abs(level - fuel[i - 1]) > 4);
    expect(jumps.length).toBeGreaterThan(5);
  });

  test("a leaking tank loses more than a tenth within the hour although no engine runs", () => {
    const fuel = of(told("fuel-leaks"), 127505)
      .filter(({ values }) => values.fluid === "fuel" && values.instance === 0)
      .map(({ values }) => Number(values.level));
    expect(fuel[0] - fuel.at(-1)!).toBeGreaterThan(13);
  }, A_WHILE);
});

describe("engines", () => {
  test("at hot idle the oil is hot and its pressure low, but above what a diesel needs", () => {
    const said = told("hot-idle");
    expect(between(samples(said, 127489, "oil-temperature", 0), 500, 540)[0] - KELVIN)
      .toBeGreaterThan(95);
    const idle = between(samples(said, 127489, "oil-pressure", 0), 560, 840);
    expect(mean(idle) / PSI).toBeGreaterThan(22);
    expect(mean(idle) / PSI).toBeLessThan(35);
  });

  test("after a stop from hard work the coolant rises by some degrees, below boiling", () => {
    const coolant = samples(told("heat-soak"), 127489, "coolant-temperature", 1);
    const before = mean(between(coolant, 460, 480)) - KELVIN;
    const hottest = Math.max(...between(coolant, 490, 1200)) - KELVIN;
    expect(hottest - before).toBeGreaterThan(4);
    expect(hottest).toBeLessThan(102);
  });

  test("petrol V8s run cooler, with less oil pressure, and burn gasoline", () => {
    const said = told("petrol-v8s");
    const coolant = between(samples(said, 127489, "coolant-temperature", 0), 240, 480);
    expect(mean(coolant) - KELVIN).toBeGreaterThan(60);
    expect(Math.max(...coolant) - KELVIN).toBeLessThan(74);
    const pressure = samples(said, 127489, "oil-pressure", 0);
    expect(mean(between(pressure, 240, 480)) / PSI).toBeGreaterThan(30);
    expect(mean(between(pressure, 500, 600)) / PSI).toBeGreaterThan(10);
    expect(mean(between(pressure, 500, 600)) / PSI).toBeLessThan(30);
    expect(of(said, 127505).some(({ values }) => values.fluid === "fuel-gasoline")).toBe(true);
    expect(of(said, 127505).some(({ values }) => values.fluid === "fuel")).toBe(false);
  });

  test("with the raw water blocked the exhaust is hot before the coolant is", () => {
    const said = told("raw-water-blocked");
    const firstOver = (pgn: number, field: string, celsius: number) =>
      samples(said, pgn, field, 0).find(({ value }) => value - KELVIN > celsius)!.at;
    const exhaust = firstOver(130316, "temperature", 71);
    expect(exhaust).toBeGreaterThan(90);
    expect(exhaust).toBeLessThan(120);
    expect(firstOver(127489, "coolant-temperature", 95)).toBeGreaterThan(exhaust + 20);
    const other = samples(said, 130316, "temperature", 1).map(({ value }) => value - KELVIN);
    expect(Math.max(...other)).toBeLessThan(60);
  });

  test("a slipping gearbox has half the pressure of the other, and hotter oil", () => {
    const said = told("gearbox-slips");
    const late = (field: string, instance: number) =>
      mean(between(samples(said, 127493, field, instance), 800, 900));
    expect(late("oil-pressure", 0) / late("oil-pressure", 1)).toBeLessThan(0.5);
    expect(late("oil-temperature", 0) - late("oil-temperature", 1)).toBeGreaterThan(20);
    expect(of(said, 127493).at(-1)?.values.gear).toBe("forward");
  });

  test("an engine room without its fan passes 65 °C", () => {
    const air = samples(told("engine-room-hot"), 130312, "temperature", 0);
    expect(Math.max(...between(air, 0, 120)) - KELVIN).toBeLessThan(45);
    expect(air.at(-1)!.value - KELVIN).toBeGreaterThan(65);
  });

  test("a generator holds 1,500 rpm and leaves the bus with its key", () => {
    const said = told("generator");
    const speeds = samples(said, 127488, "speed", 2);
    expect(mean(between(speeds, 100, 360))).toBeCloseTo(1500, -1);
    expect(speeds.at(-1)!.at).toBeLessThan(441);
    expect(mean(between(samples(said, 127489, "oil-pressure", 2), 100, 360)) / PSI)
      .toBeGreaterThan(40);
  });
});

describe("senders and boxes", () => {
  test(
    "a fix that strays leaves the mooring's circle though the boat lies still; a dragging boat leaves for good",
    () => {
      const away = (name: string) =>
        samples(told(name), 129025, "latitude")
          .map(({ at, value }) => ({ at, metres: Math.abs(value - 50.4) * 111_200 }));
      const strays = away("fix-strays");
      expect(Math.max(...strays.map(({ metres }) => metres))).toBeGreaterThan(20);
      expect(Math.max(...strays.map(({ metres }) => metres))).toBeLessThan(60);
      expect(away("mooring-drags").at(-1)!.metres).toBeGreaterThan(70);
    },
    A_WHILE,
  );

  test("slow gateways say the same until they measure again", () => {
    const speeds = between(samples(told("slow-gateways"), 127488, "speed", 1), 60, 110);
    const changes = speeds.filter((speed, i) => i > 0 && speed !== speeds[i - 1]).length;
    expect(speeds.length).toBeGreaterThan(480);
    expect(changes).toBeLessThanOrEqual(11);
    expect(changes).toBeGreaterThan(3);
  });

  test("vapour, carbon monoxide and a detector's fault close their contacts at once", () => {
    const said = of(told("vapour-and-carbon-monoxide"), 127501, 52);
    const first = (indicator: string) =>
      said.find(({ values }) => values[indicator] === "on")!.time / SECOND;
    expect(first("indicator-1")).toBeCloseTo(60, 0);
    expect(first("indicator-2")).toBeCloseTo(130, 0);
    expect(first("indicator-3")).toBeCloseTo(180, 0);
    expect(said.at(-1)?.values["indicator-1"]).toBe("off");
  });

  test("noisy senders tremble and drop out, about a true value", () => {
    const said = told("noisy-senders");
    const pressure = between(samples(said, 127489, "oil-pressure", 0), 120, 360);
    expect(Math.max(...pressure) - Math.min(...pressure)).toBeGreaterThan(60_000);
    const coolant = between(samples(said, 127489, "coolant-temperature", 0), 60, 360);
    const missing = coolant.filter(Number.isNaN).length / coolant.length;
    expect(missing).toBeGreaterThan(0.22);
    expect(missing).toBeLessThan(0.38);
  });

  test("a device that changes its address claims it first, and goes on at once", () => {
    const said = told("address-changes");
    const claims = of(said, 60928).filter(({ values }) => values["identity-number"] === 60_407);
    expect(claims.map(({ source }) => source)).toEqual([64, 70, 64]);
    const fixes = of(said, 129025);
    expect(
      fixes.filter(({ time }) => time > 61 * SECOND && time < 119 * SECOND)
        .every(({ source }) => source === 70),
    ).toBe(true);
    expect(Math.max(...fixes.slice(1).map(({ time }, i) => time - fixes[i].time)))
      .toBeLessThan(SECOND);
  });

  test("a house bank that opens at the mooring takes the whole bus with it, until it closes", () => {
    const times = told("bus-goes-dead").map(({ time }) => time / SECOND);
    expect(times.filter((time) => time > 121 && time < 300)).toEqual([]);
    expect(times.some((time) => time > 310)).toBe(true);
  });
});
