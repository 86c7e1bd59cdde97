import type { Aboard } from "./aboard.ts";
import { Alternator } from "./alternator.ts";
import { AGM, Battery, LIFEPO4 } from "./battery.ts";
import { Bilge, DEEP_BILGE, SUMP } from "./bilge.ts";
import { Charger } from "./charger.ts";
import { Engine } from "./engine.ts";
import { DIESEL, GENERATOR, PETROL_V8 } from "./engine-make.ts";
import { EngineRoom } from "./engine-room.ts";
import { Exhaust } from "./exhaust.ts";
import { Gearbox } from "./gearbox.ts";
import { Motion } from "./motion.ts";
import type { BilgeName, EngineName, Side, TankName } from "./names.ts";
import { Random } from "./random.ts";
import { SatelliteFix } from "./satellite-fix.ts";
import type { StartState } from "./start-state.ts";
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
 * Our own boat: a cruiser with two engines. The port alternator charges the house bank, the
 * starboard one the start battery, which turns both starters.
 */
export class Cruiser {
  /** The generator only turns where there is one aboard. */
  readonly engines: Readonly<Record<EngineName, Engine>>;
  readonly alternators: Readonly<Record<Side, Alternator>>;
  readonly exhausts: Readonly<Record<Side, Exhaust>>;
  readonly gearboxes: Readonly<Record<Side, Gearbox>>;
  readonly engineRoom: EngineRoom;
  readonly house: Battery;
  readonly startBattery: Battery;
  readonly charger = new Charger();
  readonly bilges: Readonly<Record<BilgeName, Bilge>>;
  readonly tanks: Readonly<Record<TankName, Tank>>;
  readonly motion: Motion;
  readonly satelliteFix: SatelliteFix;
  readonly wind: Wind;
  readonly detectors = { petrolVapour: false, carbonMonoxide: false, faulty: false };
  /** A beside what always runs. */
  extraLoad = 0;
  /** How many times rougher than usual the sea is. */
  waves = 1;
  shuntReversed = false;
  /** A.h by which the shunt's count is wrong. */
  miscounted = 0;
  /** Seconds since the start. */
  #age = 0;

  constructor(seed: number, start: StartState, aboard: Aboard = {}) {
    const random = (label: string) => new Random(seed, label);
    const make = aboard.engines === "petrol-v8s" ? PETROL_V8 : DIESEL;
    const port = new Engine(make, random("port engine"), { celsius: start.engines, hours: 1412.3 });
    const starboard = new Engine(make, random("starboard engine"), {
      celsius: start.engines,
      hours: 1398.7,
    });
    const generator = new Engine(GENERATOR, random("generator"), { celsius: SEA, hours: 640 });
    this.engines = { port, starboard, generator };
    this.alternators = {
      port: new Alternator(14.2, aboard.portAlternator),
      starboard: new Alternator(14.1),
    };
    this.exhausts = { port: new Exhaust(port, SEA), starboard: new Exhaust(starboard, SEA) };
    this.gearboxes = {
      port: new Gearbox(port, start.engines),
      starboard: new Gearbox(starboard, start.engines),
    };
    this.engineRoom = new EngineRoom([port, starboard, generator], ENGINE_ROOM);
    const { chemistry, capacity } = aboard.house ?? { chemistry: "lifepo4", capacity: 400 };
    this.house = new Battery(chemistry === "agm" ? AGM : LIFEPO4, capacity, start.house);
    this.startBattery = new Battery(AGM, 100, start.battery);
    this.charger.shorePower = start.shorePower;
    const forward = aboard.forwardBilge === "sump" ? SUMP : DEEP_BILGE;
    this.bilges = {
      aft: new Bilge(DEEP_BILGE, random("aft bilge"), 18, start.aftBilge),
      forward: new Bilge(forward, random("forward bilge"), 2, 5),
    };
    this.tanks = {
      "fuel-port": new Tank(random("port fuel"), 400, 0.68, aboard.tankSenders),
      "fuel-starboard": new Tank(random("starboard fuel"), 400, 0.66, aboard.tankSenders),
      water: new Tank(random("water"), 300, 0.81, aboard.tankSenders),
      holding: new Tank(random("holding"), 120, 0.22, aboard.tankSenders),
    };
    this.motion = new Motion(random("motion"), { latitude: 50.4, longitude: -7.9 });
    this.satelliteFix = new SatelliteFix(random("satellite fix"), this.motion);
    this.wind = new Wind(random("wind"));
  }

  get moored(): boolean {
    return this.motion.steering === "moored";
  }

  /** A.h that the shunt believes to be in the house bank. */
  get counted(): number {
    return Math.min(this.house.capacity, Math.max(0, this.house.charge + this.miscounted));
  }

  step(seconds: number): void {
    this.#age += seconds;
    const { port, starboard } = this.engines;
    for (const engine of Object.values(this.engines)) engine.step(seconds, SEA, ENGINE_ROOM);
    for (const side of ["port", "starboard"] as const) {
      const engine = this.engines[side];
      this.alternators[side].step(seconds, engine.state === "running", engine.speed);
      this.exhausts[side].step(seconds, SEA);
      this.gearboxes[side].step(seconds, ENGINE_ROOM);
    }
    this.engineRoom.step(seconds);
    this.#stepBatteries(seconds);
    this.bilges.aft.step(seconds, this.waves);
    this.bilges.forward.step(seconds, this.waves);
    this.motion.step(seconds, propeller(port), propeller(starboard));
    this.satelliteFix.step(seconds);
    this.wind.step(seconds, this.motion);
    this.#stepTanks(seconds);
  }

  #stepBatteries(seconds: number): void {
    const { port, starboard } = this.engines;
    const starters = port.starterCurrent + starboard.starterCurrent;
    this.house.step(seconds, [this.alternators.port, this.charger], this.#houseLoad());
    this.startBattery.step(
      seconds,
      [this.alternators.starboard],
      0.05 + Math.min(starters, this.startBattery.mostForStarter),
    );
    this.charger.step(seconds, this.house.volts);
    if (this.shuntReversed) this.miscounted -= 2 * this.house.current * seconds / 3600;
  }

  #houseLoad(): number {
    const fridge = this.#age % FRIDGE_CYCLE < FRIDGE_RUNS ? FRIDGE : 0;
    const pumps = Object.values(this.bilges).reduce((sum, bilge) => sum + bilge.amperes, 0);
    return ALWAYS + fridge + (this.moored ? 0 : UNDER_WAY) + pumps + this.extraLoad;
  }

  #stepTanks(seconds: number): void {
    const motion = (this.moored ? 0.05 : 0.6) * this.waves;
    this.tanks["fuel-port"].step(seconds, -this.engines.port.fuelRate, motion);
    const others = this.engines.starboard.fuelRate + this.engines.generator.fuelRate;
    this.tanks["fuel-starboard"].step(seconds, -others, motion);
    const use = this.moored ? 0 : WATER_USE;
    this.tanks.water.step(seconds, -use, motion);
    this.tanks.holding.step(seconds, use / 2, motion);
  }
}

function propeller(engine: Engine): number {
  return engine.inGear ? engine.speed : 0;
}
