import { describe, expect, test } from "vitest";
import { AGM, Battery, CABLE, LIFEPO4 } from "./battery.ts";
import { Charger, type ChargerState } from "./charger.ts";

const SHORE = { volts: 14.2, mostAmperes: 40, resistance: CABLE };

describe("a battery", () => {
  test("has a positive current while it is charged and a negative one under load", () => {
    const battery = new Battery(LIFEPO4, 400, 0.6);
    battery.step(1, [SHORE], 10);
    expect(battery.current).toBeCloseTo(30, 3);
    battery.step(1, [], 10);
    expect(battery.current).toBeCloseTo(-10, 3);
  });

  test("counts what flows: 30 A for an hour are 30 A.h", () => {
    const battery = new Battery(LIFEPO4, 400, 0.5);
    let sum = 0;
    for (let second = 0; second < 3600; second++) {
      battery.step(1, [SHORE], 10);
      sum += battery.current / 3600;
    }
    expect(sum).toBeCloseTo(30, 1);
    expect(battery.charge).toBeCloseTo(200 + sum, 6);
  });

  test("sags by three volts under a starter's rush and comes back", () => {
    const battery = new Battery(AGM, 100, 0.95);
    const rest = battery.volts;
    battery.step(0.05, [], 450);
    expect(battery.volts).toBeGreaterThan(8.5);
    expect(battery.volts).toBeLessThan(rest - 2.5);
    battery.step(0.05, [], 0);
    expect(battery.volts).toBeCloseTo(rest, 2);
  });

  test("of lithium is flat between 30 and 80 %, of lead it is not", () => {
    const rest = (full: number) => new Battery(LIFEPO4, 100, full).volts;
    expect(rest(0.8) - rest(0.3)).toBeLessThan(0.35);
    expect(rest(0.3) - rest(0.1)).toBeGreaterThan(0.7);
    const lead = (full: number) => new Battery(AGM, 100, full).volts;
    expect(lead(0.8) - lead(0.3)).toBeGreaterThan(0.4);
  });

  test("that is full takes next to nothing", () => {
    const battery = new Battery(AGM, 100, 1);
    battery.step(1, [{ volts: 14.1, mostAmperes: 60, resistance: CABLE }], 0);
    expect(battery.current).toBeGreaterThan(0);
    expect(battery.current).toBeLessThan(1.5);
  });
});

describe("a charger", () => {
  function charge(charger: Charger, battery: Battery, hours: number): ChargerState[] {
    const states: ChargerState[] = [charger.state];
    for (let second = 0; second < hours * 3600; second++) {
      battery.step(1, [charger], 2);
      charger.step(1, battery.volts);
      if (charger.state !== states.at(-1)) states.push(charger.state);
    }
    return states;
  }

  test("goes through bulk and absorption to float, never above its volts and amperes", () => {
    const charger = new Charger();
    const battery = new Battery(LIFEPO4, 400, 0.85);
    charger.shorePower = true;
    expect(charge(charger, battery, 4)).toEqual(["not-charging", "bulk", "absorption", "float"]);
    expect(battery.stateOfCharge).toBeGreaterThan(0.97);
    expect(battery.volts).toBeLessThan(14.2);
    expect(battery.volts).toBeGreaterThan(13.3);
  });

  test("in fault gives nothing, and begins anew when it is reset", () => {
    const charger = new Charger();
    const battery = new Battery(LIFEPO4, 400, 0.5);
    charger.shorePower = true;
    charge(charger, battery, 0.1);
    charger.broken = true;
    expect(charge(charger, battery, 0.1).at(-1)).toBe("fault");
    expect(battery.current).toBeCloseTo(-2, 3);
    charger.broken = false;
    expect(charge(charger, battery, 0.1).at(-1)).toBe("bulk");
  });

  test("without shore power does not charge, broken or not", () => {
    const charger = new Charger();
    charger.broken = true;
    expect(charge(charger, new Battery(LIFEPO4, 400, 0.5), 0.01)).toEqual(["not-charging"]);
  });
});
