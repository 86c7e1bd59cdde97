import { describe, expect, test } from "vitest";
import { between, mean, of, samples, told } from "../../../tests/support/said.ts";
import { SECOND } from "../../ground/time.ts";
import { SCENARIOS } from "./all.ts";

const PSI = 6894.757;
/** Milliseconds that a long story may take on a busy machine. */
const A_WHILE = 60_000;

test("every story has a name of its own, one sentence, and happenings in order within its time", () => {
  for (const [name, { story, lasting, happenings }] of SCENARIOS) {
    expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(story).toMatch(/^[A-Z].*\.$/);
    expect(story).not.toMatch(/\. [A-Z]/);
    const times = happenings.map(({ at }) => at);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(times.at(-1) ?? 0).toBeLessThan(lasting);
  }
});

test("two gateways on one instance: 3,000 and 700 rpm from two addresses, never one in between", () => {
  const said = told("two-gateways-one-instance", 120 * SECOND).filter((one) =>
    one.time > 90 * SECOND
  );
  const speeds = of(said, 127488);
  expect(new Set(speeds.map((one) => one.values.instance))).toEqual(new Set([0]));
  const ofPort = speeds.filter((one) => one.source === 16).map((one) => Number(one.values.speed));
  const ofStarboard = speeds.filter((one) => one.source === 17).map((one) =>
    Number(one.values.speed)
  );
  expect(Math.min(...ofPort)).toBeGreaterThan(2900);
  expect(Math.max(...ofStarboard)).toBeLessThan(750);
});

describe("cranking that pulls the bus down", () => {
  const said = told("cranking-resets-the-bus");
  const claims = of(said, 60928).filter((one) => one.time > 24 * SECOND);
  const first = of(said, 60928).filter((one) => one.time < 5 * SECOND);
  const identities = (messages: typeof said) =>
    messages.map((one) => one.values["identity-number"]);

  test("makes every box but the shunt claim anew, in another order", () => {
    expect(claims.length).toBe(8);
    expect(identities(claims)).not.toEqual(
      identities(first).filter((identity) => identities(claims).includes(identity)),
    );
  });

  test("swaps two addresses, and the NAMEs go with the engines", () => {
    const ofPort = claims.find((one) => one.values["identity-number"] === 60_101);
    expect(ofPort?.source).toBe(17);
    const running = of(said, 127488, 17).filter((one) => one.time > 60 * SECOND);
    expect(running.every((one) => one.values.instance === 0)).toBe(true);
    expect(Number(running.at(-1)?.values.speed)).toBeGreaterThan(600);
  });

  test("leaves the boxes without anything to say for four seconds", () => {
    const port = of(said, 127488).filter((one) => one.values.instance === 0);
    const after = port.filter((one) => one.time > 25 * SECOND);
    const silent = after.filter((one) => one.values.speed === undefined);
    const lasting = (silent.at(-1)!.time - silent[0].time) / SECOND;
    expect(lasting).toBeGreaterThan(3.2);
    expect(lasting).toBeLessThan(4.3);
  });

  test("is seen by the shunt alone, at a little over eight volts", () => {
    const volts = between(samples(said, 127508, "voltage", 1), 23, 40);
    expect(Math.min(...volts)).toBeGreaterThan(8);
    expect(Math.min(...volts)).toBeLessThan(9);
    expect(of(said, 60928, 32).length).toBe(1);
  });
});

test("status words not available: nothing is said, neither lamp nor all well", () => {
  const said = told("status-words-not-available", 40 * SECOND);
  for (const { values } of of(said, 127489, 16)) {
    expect([values["status-1"] ?? null, values["status-2"] ?? null]).toEqual([null, null]);
  }
  expect(of(said, 127489, 17).at(-1)?.values["status-1"]).toEqual([]);
});

test("status words 0: no lamp lights although the pressure is gone", () => {
  const said = of(told("status-words-zero", 109 * SECOND), 127489, 16);
  expect(said.every((one) => String(one.values["status-1"]) === "")).toBe(true);
  expect(Number(said.at(-1)?.values["oil-pressure"])).toBeLessThan(5 * PSI);
});

test("a sender fitted later: nothing at first, then one number whatever the speed", () => {
  const said = told("sender-fitted-later");
  const pressures = samples(said, 127489, "oil-pressure", 0);
  expect(between(pressures, 0, 120).every(Number.isNaN)).toBe(true);
  expect(new Set(between(pressures, 121, 360))).toEqual(new Set([310_300]));
  const speeds = between(samples(said, 127488, "speed", 0), 140, 360);
  expect(Math.max(...speeds) - Math.min(...speeds)).toBeGreaterThan(1000);
});

test("oil lost under load: from right to nothing in two seconds, and the gateway dies with the key", () => {
  const said = told("oil-lost-under-load");
  const pressures = samples(said, 127489, "oil-pressure", 0);
  expect(mean(between(pressures, 80, 90)) / PSI).toBeGreaterThan(35);
  expect(Math.max(...between(pressures, 92.5, 98)) / PSI).toBeLessThan(4);
  expect(pressures.at(-1)!.at).toBeLessThan(98.1);
  expect(mean(between(samples(said, 127488, "speed", 0), 80, 98))).toBeGreaterThan(2900);
});

test("a battery that opens under charge: 120 A become 0, and the volts jump for one sample", () => {
  const said = told("battery-opens-under-charge");
  const amperes = samples(said, 127508, "current", 0);
  expect(mean(between(amperes, 140, 150))).toBeGreaterThan(110);
  expect(Math.max(...between(amperes, 152, 240).map(Math.abs))).toBeLessThan(1);
  const volts = samples(said, 127489, "alternator-voltage", 0).filter(({ at }) => at > 150);
  expect(volts.filter(({ value }) => value > 16).length).toBe(1);
  expect(volts.filter(({ value }) => value < 14 || (value > 14.4 && value < 16))).toEqual([]);
  expect(of(said, 127506).at(-1)?.values["state-of-charge"]).toBeGreaterThan(45);
});

test(
  "shore power lost at night: the charger is gone, and the bank falls below 12.2 and 11.8 V",
  () => {
    const said = told("shore-power-lost-at-night");
    expect(of(said, 127507).at(-1)!.time).toBeLessThan(600.1 * SECOND);
    const volts = samples(said, 127508, "voltage", 0);
    expect(mean(between(volts, 500, 600))).toBeGreaterThan(13);
    const under = (limit: number) => volts.find(({ value }) => value < limit)!.at / 60;
    expect(under(12.2)).toBeGreaterThan(45);
    expect(under(11.8)).toBeGreaterThan(under(12.2) + 15);
    expect(under(11.8)).toBeLessThan(100);
  },
  A_WHILE,
);

test("a leak on a pump without a wire: runs of six seconds every four minutes on the shunt", () => {
  const said = told("float-pump-leak");
  expect(of(said, 127501).every((one) => one.values["indicator-5"] === null)).toBe(true);
  const amperes = samples(said, 127508, "current", 0);
  const steps = amperes.slice(1).map(({ at, value }, i) => ({ at, by: value - amperes[i].value }));
  const pump = steps.filter(({ at, by }) =>
    at < 36 * 60 && Math.abs(by) > 3.5 && Math.abs(by) < 4.8
  );
  const starts = pump.filter(({ by }) => by < 0);
  expect(starts.length).toBeGreaterThanOrEqual(8);
  const gaps = starts.slice(1).map(({ at }, i) => at - starts[i].at);
  expect(mean(gaps)).toBeGreaterThan(200);
  expect(mean(gaps)).toBeLessThan(280);
  const runs = starts.map(({ at }) => pump.find((stop) => stop.at > at && stop.by > 0)!.at - at);
  expect(mean(runs)).toBeGreaterThan(5);
  expect(mean(runs)).toBeLessThan(7.5);
  const high = of(said, 127501).find((one) => one.values["indicator-6"] === "on");
  expect(high!.time).toBeGreaterThan(36 * 60 * SECOND);
}, A_WHILE);

test("a receiver with a wrong date: old, nothing, zero, right", () => {
  const said = told("receiver-date-wrong");
  const dates = samples(said, 126992, "date");
  const today = dates.at(-1)!.value;
  expect(new Set(between(dates, 0, 90))).toEqual(new Set([today - 7168]));
  expect(between(dates, 90, 200).every(Number.isNaN)).toBe(true);
  expect(new Set(between(dates, 201, 360))).toEqual(new Set([today]));
  const latitudes = samples(said, 129025, "latitude");
  expect(between(latitudes, 0, 90)[0]).toBeCloseTo(50.4, 2);
  expect(between(latitudes, 91, 150).every(Number.isNaN)).toBe(true);
  expect(new Set(between(latitudes, 151, 200))).toEqual(new Set([0]));
  expect(between(latitudes, 201, 360)[0]).toBeCloseTo(50.4, 2);
});
