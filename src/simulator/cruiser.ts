import { Alternator } from "./alternator.ts";
import { AGM, Battery, LIFEPO4 } from "./battery.ts";
import { Bilge, PUMP_AMPERES } from "./bilge.ts";
import { Charger } from "./charger.ts";
import { Engine } from "./engine.ts";
import type { Scenario, Side } from "./happening.ts";
import { Motion } from "./motion.ts";
import { Random } from "./random.ts";
import { Tank } from "./tank.ts";
import { Wind } from "./wind.ts";

/** °C. */
const SEA = 14;
const ENGINE_ROOM = 22;
/** A of the fridge, which runs 12 minutes of every 36; of what always runs; under way. */
const FRIDGE = 5;
const FRIDGE_RUNS = 12 * 60;
const FRIDGE_CYCLE = 36 * 60;
const ALWAYS = 1.2;
const UNDER_WAY = 6;
/** L/h while somebody is aboard: out of the water tank, and half of it into the holding tank. */
const WATER_USE = 6;

/**
 * Our own boat: a cruiser with two diesels. The port alternator charges the house bank, the
 * starboard one the start battery, which turns both starters.
 */
export class Cruiser {
  readonly engines: Readonly<Record<Side, Engine>>;
  readonly alternators: Readonly<Record<Side, Alternator>> = {
    port: new Alternator(14.2),
    starboard: new Alternator(14.1),
  };
  readonly house: Battery;
  readonly startBattery: Battery;
  readonly charger = new Charger();
  readonly bilges: Readonly<Record<"aft" | "forward", Bilge>>;
  readonly tanks: Readonly<Record<"fuel-port" | "fuel-starboard" | "water" | "holding", Tank>>;
  readonly motion: Motion;
  readonly wind: Wind;
  /** A beside what always runs. */
  extraLoad = 0;
  /** Seconds since the start. */
  #age = 0;

  constructor(seed: number, start: Scenario["start"]) {
    const random = (label: string) => new Random(seed, label);
    this.engines = {
      port: new Engine(random("port engine"), { celsius: start.engines, hours: 1412.3 }),
      starboard: new Engine(random("starboard engine"), { celsius: start.engines, hours: 1398.7 }),
    };
    this.house = new Battery(LIFEPO4, 400, start.house);
    this.startBattery = new Battery(AGM, 100, start.battery);
    this.charger.shorePower = start.shorePower;
    this.bilges = { aft: new Bilge(18, start.aftBilge), forward: new Bilge(2, 5) };
    this.tanks = {
      "fuel-port": new Tank(random("port fuel"), 400, 0.68),
      "fuel-starboard": new Tank(random("starboard fuel"), 400, 0.66),
      water: new Tank(random("water"), 300, 0.81),
      holding: new Tank(random("holding"), 120, 0.22),
    };
    this.motion = new Motion(random("motion"), { latitude: 50.4, longitude: -7.9 });
    this.wind = new Wind(random("wind"));
  }

  get moored(): boolean {
    return this.motion.steering === "moored";
  }

  step(seconds: number): void {
    this.#age += seconds;
    const { port, starboard } = this.engines;
    for (const side of ["port", "starboard"] as const) {
      const engine = this.engines[side];
      engine.step(seconds, SEA, ENGINE_ROOM);
      this.alternators[side].step(seconds, engine.state === "running", engine.speed);
    }
    this.house.step(seconds, [this.alternators.port, this.charger], this.#houseLoad());
    this.startBattery.step(
      seconds,
      [this.alternators.starboard],
      0.05 + port.starterCurrent + starboard.starterCurrent,
    );
    this.charger.step(seconds, this.house.volts);
    this.bilges.aft.step(seconds);
    this.bilges.forward.step(seconds);
    this.motion.step(seconds, propeller(port), propeller(starboard));
    this.wind.step(seconds, this.motion);
    this.#stepTanks(seconds);
  }

  #houseLoad(): number {
    const fridge = this.#age % FRIDGE_CYCLE < FRIDGE_RUNS ? FRIDGE : 0;
    const pumps = Object.values(this.bilges).filter((bilge) => bilge.pumping).length;
    return ALWAYS + fridge + (this.moored ? 0 : UNDER_WAY) + pumps * PUMP_AMPERES +
      this.extraLoad;
  }

  #stepTanks(seconds: number): void {
    const motion = this.moored ? 0.05 : 0.6;
    this.tanks["fuel-port"].step(seconds, -this.engines.port.fuelRate, motion);
    this.tanks["fuel-starboard"].step(seconds, -this.engines.starboard.fuelRate, motion);
    const use = this.moored ? 0 : WATER_USE;
    this.tanks.water.step(seconds, -use, motion);
    this.tanks.holding.step(seconds, use / 2, motion);
  }
}

function propeller(engine: Engine): number {
  return engine.inGear ? engine.speed : 0;
}
