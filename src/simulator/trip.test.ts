import { describe, expect, test } from "vitest";
import { between, mean, of, play, samples } from "../../tests/support/said.ts";
import { MINUTE, SECOND } from "../ground/time.ts";
import { SCENARIOS } from "./scenarios/all.ts";
import { randomTrip } from "./trip.ts";
import { TRIP_FAULTS, type TripFaultName } from "./trip-faults.ts";
import { faultName, truthOf } from "./truth.ts";

const NAMES = Object.keys(TRIP_FAULTS) as TripFaultName[];
const SEEDS = Array.from({ length: 40 }, (_, i) => i + 1);

describe("a trip by chance", () => {
  test("is the same for one seed, and another for another", () => {
    expect(randomTrip(7, { faults: NAMES })).toEqual(randomTrip(7, { faults: NAMES }));
    expect(randomTrip(7, { faults: [] })).not.toEqual(randomTrip(8, { faults: [] }));
  });

  test("without faults has no truth to be found, and is else the same trip", () => {
    const { scenario, truth, size } = randomTrip(3, { faults: [] });
    expect([truth, size]).toEqual([[], null]);
    const faulty = randomTrip(3, { faults: ["oil-lost"] }).scenario;
    expect(faulty.happenings.filter((one) => one.do !== "fault")).toEqual(scenario.happenings);
    expect(faulty.start).toEqual(scenario.start);
  });

  test("is told in order, within its time, and lasts ten minutes to an hour when nothing goes wrong", () => {
    for (const seed of SEEDS) {
      const { happenings, lasting } = randomTrip(seed, { faults: [] }).scenario;
      const times = happenings.map(({ at }) => at);
      expect(times).toEqual([...times].sort((a, b) => a - b));
      expect(times.every((at) => Number.isInteger(at) && at >= 0 && at < lasting)).toBe(true);
      expect(lasting / MINUTE).toBeGreaterThan(10);
      expect(lasting / MINUTE).toBeLessThan(60);
    }
  });

  test.each(NAMES)("knows of %s when it began, whom it befell, and how bad it is", (name) => {
    for (const seed of SEEDS.slice(0, 10)) {
      const { scenario, truth, size } = randomTrip(seed, { faults: [name] });
      expect(truth.length).toBe(1);
      expect(truth[0].name).toBe(name);
      expect(truth[0].began).toBeGreaterThan(20 * SECOND);
      expect(scenario.lasting - truth[0].began).toBeGreaterThanOrEqual(TRIP_FAULTS[name].lasts);
      expect(size).toBeGreaterThanOrEqual(0);
      expect(size).toBeLessThan(1);
    }
  });

  test("draws every fault sooner or later, and none as often as its chance says", () => {
    const drawn = Array.from(
      { length: 400 },
      (_, seed) => randomTrip(seed, { faults: NAMES, chance: 0.75 }).truth[0]?.name,
    );
    expect(new Set(drawn)).toEqual(new Set([...NAMES, undefined]));
    const without = drawn.filter((name) => name === undefined).length;
    expect(without).toBeGreaterThan(70);
    expect(without).toBeLessThan(130);
  });

  test.each([1, 2, 3])(
    "is one that a boat can make: out, home, and to her mooring (%i)",
    (seed) => {
      const { scenario } = randomTrip(seed, { faults: [] });
      const said = play(scenario, scenario.lasting, seed);
      const metres = samples(said, 129025, "latitude").map(({ value }) =>
        Math.abs(value - 50.4) * 111_200
      );
      expect(Math.max(...metres)).toBeGreaterThan(300);
      expect(metres.at(-1)).toBeLessThan(60);
      const port = of(said, 127489, 16).filter(({ values }) =>
        values["oil-pressure"] !== undefined
      );
      expect(port.length).toBeGreaterThan(500);
      expect(of(said, 127507).at(-1)?.values["operating-state"]).not.toBe("not-charging");
    },
  );

  test("with a fault shows it: oil pressure is gone soon after the truth says so", () => {
    const { scenario, truth } = randomTrip(5, { faults: ["oil-lost"] });
    const began = truth[0].began / SECOND;
    const said = play(scenario, truth[0].began + 20 * SECOND, 5);
    const pressure = samples(said, 127489, "oil-pressure", truth[0].subject === "port" ? 0 : 1);
    expect(mean(between(pressure, began - 5, began))).toBeGreaterThan(150_000);
    expect(Math.max(...between(pressure, began + 3, began + 20))).toBeLessThan(10_000);
  });
});

describe("the truth of a story", () => {
  test("has its faults with beginning and end", () => {
    const harbour = truthOf(SCENARIOS.get("harbour-day")!);
    expect(harbour.map(({ name, of, subject, began, ended }) => [
      name,
      of,
      subject,
      began / SECOND,
      ended === null ? null : ended / SECOND,
    ])).toEqual([
      ["oil-strainer-clogs", "boat", "port", 48, 24 * 60],
      ["charger-fault", "boat", "shore", 15 * 60, 20 * 60],
    ]);
  });

  test("tells boat, senders and network apart, and names kinds of readings and beliefs", () => {
    const truth = [...SCENARIOS.values()].flatMap(truthOf);
    const found = new Map(truth.map(({ name, of }) => [name, of]));
    expect(found.get("reading-nothing")).toBe("sender");
    expect(found.get("receiver-believes-old-date")).toBe("sender");
    expect(found.get("instance-not-set")).toBe("network");
    expect(found.get("house-opens")).toBe("boat");
    for (const { fault, name } of truth) expect(faultName(fault)).toBe(name);
  });
});
