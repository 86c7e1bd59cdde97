import { describe, expect, test } from "vitest";
import { Engine } from "./engine.ts";
import { DIESEL } from "./engine-make.ts";
import { Random } from "./random.ts";

const PSI = 6894.757;
const STEP = 0.05;

function engineAt(celsius: number, seed = 1): Engine {
  const engine = new Engine(DIESEL, new Random(seed, "engine"), { celsius, hours: 1000 });
  engine.keyOn = true;
  return engine;
}

function run(engine: Engine, seconds: number, look?: (time: number) => void): void {
  for (let time = STEP; time <= seconds; time += STEP) {
    engine.step(STEP, 14, 22);
    look?.(time);
  }
}

function runningAt(speed: number, celsius: number): Engine {
  const engine = engineAt(celsius);
  engine.start();
  run(engine, 10);
  engine.inGear = true;
  engine.demanded = speed;
  run(engine, 20);
  return engine;
}

describe("an engine that is started", () => {
  test("needs its key", () => {
    const engine = engineAt(20);
    engine.keyOn = false;
    engine.start();
    run(engine, 5);
    expect(engine.speed).toBe(0);
  });

  test("cranks, fires and settles at idle", () => {
    const engine = engineAt(20);
    engine.start();
    let fastest = 0;
    run(engine, 1, () => fastest = Math.max(fastest, engine.speed));
    expect(fastest).toBeLessThan(250);
    run(engine, 9);
    expect(Math.abs(engine.speed - DIESEL.idleSpeed)).toBeLessThan(15);
  });

  test.each([1, 2, 3, 4, 5])("has oil pressure only after 0.5 to 2 s of running (%i)", (seed) => {
    const engine = engineAt(20, seed);
    engine.start();
    let fired = 0;
    let pressed = 0;
    run(engine, 10, (time) => {
      if (fired === 0 && engine.state === "running") fired = time;
      if (pressed === 0 && engine.oil.pressure > 10 * PSI) pressed = time;
    });
    expect(pressed - fired).toBeGreaterThan(0.5);
    expect(pressed - fired).toBeLessThan(2);
  });
});

describe("oil pressure", () => {
  test("follows speed", () => {
    const pressures = [700, 1200, 1800, 2600].map((speed) => runningAt(speed, 80).oil.pressure);
    expect(pressures).toEqual([...pressures].sort((a, b) => a - b));
    expect(pressures[3] / pressures[0]).toBeGreaterThan(1.5);
  });

  test("is 55 to 60 psi at 2,600 rpm with cold oil and 25 to 40 psi at hot idle", () => {
    expect(runningAt(2600, 15).oil.pressure / PSI).toBeGreaterThan(55);
    expect(runningAt(2600, 15).oil.pressure / PSI).toBeLessThanOrEqual(60.1);
    const hot = runningAt(2600, 80);
    run(hot, 3600);
    hot.inGear = false;
    hot.demanded = DIESEL.idleSpeed;
    run(hot, 10);
    expect(hot.oil.temperature).toBeGreaterThan(95);
    expect(hot.oil.pressure / PSI).toBeGreaterThan(25);
    expect(hot.oil.pressure / PSI).toBeLessThan(40);
  });

  test("with a clogging strainer falls far below under load and is nearly enough at idle", () => {
    const engine = runningAt(2200, 80);
    engine.oil.clogging = true;
    run(engine, 30);
    expect(engine.oil.pressure / PSI).toBeLessThan(15);
    engine.demanded = DIESEL.idleSpeed;
    run(engine, 10);
    expect(engine.oil.pressure / PSI).toBeGreaterThan(12);
  });

  test("is gone soon after a stop", () => {
    const engine = runningAt(1500, 80);
    engine.stop();
    run(engine, 8);
    expect(engine.speed).toBe(0);
    expect(engine.oil.pressure).toBe(0);
  });
});

describe("coolant", () => {
  test("warms up from cold and settles where the thermostat holds it, at idle and under load", () => {
    const cruising = runningAt(2200, 15);
    run(cruising, 60);
    expect(cruising.cooling.coolant).toBeLessThan(40);
    run(cruising, 3600);
    expect(cruising.cooling.coolant).toBeGreaterThan(79);
    expect(cruising.cooling.coolant).toBeLessThan(86);
    const idling = runningAt(700, 80);
    run(idling, 3600);
    expect(idling.cooling.coolant).toBeGreaterThan(76);
    expect(idling.cooling.coolant).toBeLessThan(cruising.cooling.coolant);
  });

  test("soaks up heat after a stop from cruising, stays below 95 °C, then cools", () => {
    const engine = runningAt(2200, 80);
    run(engine, 1800);
    const running = engine.cooling.coolant;
    engine.stop();
    let hottest = 0;
    run(engine, 900, () => hottest = Math.max(hottest, engine.cooling.coolant));
    expect(hottest).toBeGreaterThan(running + 4);
    expect(hottest).toBeLessThan(95);
    run(engine, 4 * 3600);
    expect(engine.cooling.coolant).toBeLessThan(hottest - 15);
  });

  test("passes 100 °C under load when the raw water is blocked", () => {
    const engine = runningAt(2200, 80);
    engine.cooling.open = 0.1;
    run(engine, 400);
    expect(engine.cooling.coolant).toBeGreaterThan(100);
  });
});

test("fuel rises with load, and hours count only while it runs", () => {
  const idle = runningAt(700, 80);
  const cruise = runningAt(2200, 80);
  expect(idle.fuelRate).toBeGreaterThan(1);
  expect(idle.fuelRate).toBeLessThan(4);
  expect(cruise.fuelRate).toBeGreaterThan(15);
  expect(cruise.fuelRate).toBeLessThan(35);
  const before = cruise.runTime;
  run(cruise, 100);
  expect(cruise.runTime - before).toBeCloseTo(100, 0);
  cruise.stop();
  run(cruise, 10);
  const after = cruise.runTime;
  run(cruise, 100);
  expect(cruise.runTime).toBe(after);
});
