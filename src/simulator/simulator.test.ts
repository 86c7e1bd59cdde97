import { describe, expect, test } from "vitest";
import { of, play } from "../../tests/support/said.ts";
import { FrameBatch } from "../bus/frame-batch.ts";
import { MINUTE, SECOND } from "../ground/time.ts";
import { along } from "./curve.ts";
import type { Scenario, Timed } from "./happening.ts";
import type { OutgoingMessage } from "./message-encoder.ts";
import { HARBOUR_DAY } from "./scenarios/harbour-day.ts";
import { KEY_OFF } from "./scenarios/key-off.ts";
import { QUIET_MOORING } from "./scenarios/quiet-mooring.ts";
import { Simulator } from "./simulator.ts";

const START = 1_781_431_200 * SECOND;
const PORT_GATEWAY = 16;
const STARBOARD_GATEWAY = 17;

function story(happenings: readonly Timed[], lasting = 10 * MINUTE): Scenario {
  return { ...HARBOUR_DAY, lasting, again: false, happenings };
}

describe("the boxes on the bus", () => {
  const said = play(HARBOUR_DAY, 30 * SECOND);

  test("claim an address before they say anything else, each with a NAME of its own", () => {
    const claims = of(said, 60928);
    expect(claims.length).toBe(9);
    expect(new Set(claims.map((claim) => claim.values["identity-number"])).size).toBe(9);
    for (const claim of claims) {
      const first = said.find((one) => one.source === claim.source);
      expect(first).toBe(claim);
    }
    expect(of(said, 126996).length).toBe(9);
  });

  test("that have to move claim the new address first, and wait before they speak from it", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const fault = { kind: "address-changes", device: "port-gateway", address: 92 } as const;
      const moved = story([{ at: 0, do: "key-on", engine: "port" }, {
        at: 8 * SECOND,
        do: "fault",
        fault,
      }]);
      const from = play(moved, 10 * SECOND, seed).filter(({ source }) => source === 92);
      expect(from.length).toBeGreaterThan(5);
      expect(from[0].pgn).toBe(60928);
      expect(from[1].time - from[0].time).toBeGreaterThanOrEqual(250_000);
    }
  });

  test("send at their usual periods with a little jitter, and not in step", () => {
    const speeds = of(said, 127488, PORT_GATEWAY).map((one) => one.time);
    const gaps = speeds.slice(1).map((time, i) => time - speeds[i]);
    expect(Math.min(...gaps)).toBeGreaterThan(95_000);
    expect(Math.max(...gaps)).toBeLessThan(105_000);
    expect(new Set(gaps).size).toBeGreaterThan(20);
    expect((speeds.at(-1)! - speeds[0]) / (speeds.length - 1)).toBeCloseTo(100_000, -2);
    const first = [...new Set(said.map((one) => one.pgn))].map((pgn) => of(said, pgn)[0].time);
    expect(new Set(first).size).toBe(first.length);
  });

  test("send the contacts at once when one changes, and every 15 s otherwise", () => {
    const banks = of(play(QUIET_MOORING, 5 * MINUTE), 127501);
    const change = banks.findIndex((bank) => bank.values["indicator-3"] === "on");
    expect(change).toBeGreaterThan(5);
    expect(banks[change].time - banks[change - 1].time).toBeLessThan(15 * SECOND);
    expect(banks[2].time - banks[1].time).toBeGreaterThan(14.9 * SECOND);
  });

  test("have no sender for the starboard engine's fuel rate", () => {
    const port = of(said, 127489, PORT_GATEWAY).at(-1)!;
    expect(port.values["fuel-rate"]).toBeGreaterThan(1);
    for (const one of of(said, 127489, STARBOARD_GATEWAY)) {
      expect(one.values["fuel-rate"]).toBeNull();
    }
  });
});

describe("a key that is turned off", () => {
  const said = play(KEY_OFF, 94 * SECOND);

  test("may take the gateway with it: its last word is an engine at idle", () => {
    const last = of(said, 127488, PORT_GATEWAY).at(-1)!;
    expect(Math.abs(last.time - 40 * SECOND)).toBeLessThan(0.2 * SECOND);
    expect(last.values.speed).toBeGreaterThan(600);
    expect(of(said, 127489, PORT_GATEWAY).at(-1)!.values["oil-pressure"]).toBeGreaterThan(170_000);
  });

  test("may leave the gateway talking: its instance, and nothing else", () => {
    const after = of(said, 127489, STARBOARD_GATEWAY).filter((one) => one.time > 61 * SECOND);
    expect(after.length).toBeGreaterThan(50);
    for (const one of after) expect(one.values).toEqual({ instance: 1 });
  });

  test("and on again makes a dead gateway claim its address anew", () => {
    expect(of(play(KEY_OFF, 100 * SECOND), 60928, PORT_GATEWAY).length).toBe(2);
  });
});

test("a device whose plug is out falls silent, and comes back with a claim", () => {
  const said = play(KEY_OFF, 190 * SECOND);
  const speeds = of(said, 127488, STARBOARD_GATEWAY).map((one) => one.time);
  const quiet = speeds.slice(1).map((time, i) => time - speeds[i]).filter((gap) => gap > SECOND);
  expect(quiet.length).toBe(1);
  expect(quiet[0]).toBeGreaterThan(34 * SECOND);
  expect(of(said, 60928, STARBOARD_GATEWAY).length).toBe(2);
});

describe("oil pressure, as the gateway sends it", () => {
  /** The default for diesels: 1/min and psi; from here on an alarm would be raised. */
  const LIMIT = [[700, 10], [1200, 15], [1800, 25], [2600, 30]] as const;
  const PSI = 6894.757;

  /** Times at which it was under the limit for the lowest speed of 3 s, 10 s after the start. */
  function tooLow(said: readonly OutgoingMessage[], source: number): number[] {
    const low: number[] = [];
    let speeds: number[] = [];
    for (const { pgn, time, values } of said.filter((one) => one.source === source)) {
      if (pgn === 127488) speeds.push(Number(values.speed));
      if (pgn !== 127489) continue;
      // Ten a second: the last 10 s for "running", the last 3 s for the limit.
      speeds = speeds.slice(-100);
      if (speeds.length < 100 || Math.min(...speeds) < 500) continue;
      const limit = along(LIMIT, Math.min(...speeds.slice(-30))) * PSI;
      if (Number(values["oil-pressure"]) < limit) low.push(time);
    }
    return low;
  }

  const faultless = HARBOUR_DAY.happenings.filter((one) => one.do !== "fault");

  test.each([1, 2, 3, 4, 5, 6, 7, 8])("is never under the limit without the fault (%i)", (seed) => {
    const said = play(story(faultless), 4 * MINUTE, seed);
    expect(tooLow(said, PORT_GATEWAY)).toEqual([]);
    expect(tooLow(said, STARBOARD_GATEWAY)).toEqual([]);
  });

  test("is never under the limit with hot oil, a sudden throttle and hot idle", () => {
    const engine = "port" as const;
    const said = play(
      story([
        { at: SECOND, do: "key-on", engine },
        { at: 2 * SECOND, do: "start", engine },
        { at: 10 * SECOND, do: "gear", engine, engaged: true },
        { at: 12 * SECOND, do: "throttle", engine, speed: 2600 },
        { at: 25 * MINUTE, do: "throttle", engine, speed: 700 },
        { at: 25.5 * MINUTE, do: "throttle", engine, speed: 2600 },
        { at: 26 * MINUTE, do: "throttle", engine, speed: 700 },
      ], 30 * MINUTE),
      28 * MINUTE,
    ).filter((one) => one.source === PORT_GATEWAY && one.time > 24 * MINUTE);
    expect(tooLow(said, PORT_GATEWAY)).toEqual([]);
    const temperatures = of(said, 127489).map((one) => Number(one.values["oil-temperature"]));
    expect(Math.max(...temperatures)).toBeGreaterThan(273.15 + 100);
  });

  test.each([1, 2, 3])(
    "stays under it from a minute after the start of a harbour day (%i)",
    (seed) => {
      const low = tooLow(play(HARBOUR_DAY, 90 * SECOND, seed), PORT_GATEWAY);
      expect(low[0]).toBeGreaterThan(55 * SECOND);
      expect(low[0]).toBeLessThan(72 * SECOND);
      expect(low.length).toBeGreaterThan(2 * (88 - low[0] / SECOND));
    },
  );
});

describe("a harbour day", () => {
  const said = play(HARBOUR_DAY, 37 * MINUTE);

  test("begins again when it is over: the boat is back at its mooring and starts once more", () => {
    const cranking = of(said, 127508).filter((one) =>
      one.values.instance === 1 && Number(one.values.voltage) < 11.8
    );
    expect(cranking.some((one) => one.time > 36 * MINUTE)).toBe(true);
    const home = of(said, 129025).filter((one) => one.time > 20 * MINUTE && one.time < 36 * MINUTE);
    const farthest = Math.max(
      ...home.map(({ values }) => Math.abs(Number(values.latitude) - 50.4)),
    );
    expect(farthest).toBeLessThan(0.0003);
  });

  test("has a charger in fault for five minutes", () => {
    const faults = of(said, 127507)
      .filter((one) => one.values["operating-state"] === "fault").map((one) => one.time);
    expect(faults[0]).toBeLessThan(15 * MINUTE + 2 * SECOND);
    expect(faults.at(-1)).toBeGreaterThan(20 * MINUTE - 2 * SECOND);
  });
});

test("a quiet mooring pumps twice an hour, keeps its charge and has both engines at rest", () => {
  const said = play(QUIET_MOORING, 33 * MINUTE);
  const pumping = of(said, 127501).map((one) => one.values["indicator-3"]);
  const starts = pumping.filter((word, i) => word === "on" && pumping[i - 1] === "off").length;
  expect(starts).toBe(2);
  expect(of(said, 127488).every((one) => one.values.speed === 0)).toBe(true);
  for (const one of of(said, 127489)) expect(one.values["status-1"]).toEqual([]);
  for (const one of of(said, 127506)) expect(one.values["state-of-charge"]).toBeGreaterThan(97);
});

test("a batch too small for a whole message is refused", () => {
  const encoder = { append: () => {} };
  const simulator = new Simulator({ scenario: QUIET_MOORING, encoder, start: START });
  expect(() => simulator.fill(new FrameBatch(8), START)).toThrow(RangeError);
});

test("a scenario that names a device which is not aboard is refused", () => {
  const fault = { kind: "device-gone", device: "radar" } as const;
  expect(() => play(story([{ at: 0, do: "fault", fault }]), SECOND)).toThrow(/radar/);
});
