import { Cooling } from "./cooling.ts";
import type { EngineMake } from "./engine-make.ts";
import { Oil } from "./oil.ts";
import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** 1/min a second: the governor's limit upwards, and what friction takes off. */
const PULL_UP = 180;
const RUN_DOWN = 320;

export type EngineState = "stopped" | "cranking" | "running" | "running-down";

/** Seconds that the starter turns before it fires. */
const CRANKING: readonly [number, number] = [1.0, 1.8];

/** An engine with a governor. The helm sets `keyOn`, `inGear` and `demanded`. */
export class Engine {
  state: EngineState = "stopped";
  keyOn = false;
  inGear = false;
  /** 1/min that the throttle asks for. */
  demanded: number;
  /** 1/min. */
  speed = 0;
  /** Share of the torque that it could give at this speed, 0 to 1. */
  load = 0;
  /** L/h. */
  fuelRate = 0;
  /** A that the starter draws. */
  starterCurrent = 0;
  /** Seconds run in its life. */
  runTime: number;
  /** How much longer than usual it must be cranked: cold, or turned slowly. */
  reluctance = 1;
  readonly cooling: Cooling;
  readonly oil: Oil;
  readonly #random: Random;
  readonly #hunting: Wander;
  #crankingTime = 0;
  #cranked = 0;

  constructor(
    readonly make: EngineMake,
    random: Random,
    facts: { celsius: number; hours: number },
  ) {
    this.demanded = make.idleSpeed;
    this.#random = random;
    this.#hunting = new Wander(random, 3, 0.8);
    this.cooling = new Cooling(make.cooling, facts.celsius);
    this.oil = new Oil(make.oil, random, facts.celsius);
    this.runTime = facts.hours * 3600;
  }

  /** Turns the starter until the engine fires; without the key, or when it turns, nothing happens. */
  start(): void {
    if (!this.keyOn || this.state !== "stopped") return;
    this.state = "cranking";
    this.#cranked = 0;
    this.#crankingTime = this.reluctance * this.#random.between(...CRANKING);
  }

  /** Cuts the fuel. */
  stop(): void {
    if (this.state !== "stopped") this.state = "running-down";
    this.inGear = false;
    this.demanded = this.make.idleSpeed;
  }

  /** `sea` and `room` in °C. */
  step(seconds: number, sea: number, room: number): void {
    const before = this.speed;
    this.#turn(seconds);
    this.#burn((this.speed - before) / seconds);
    this.cooling.step(seconds, this.make.heat * this.fuelRate, this.speed, sea, room);
    this.oil.step(seconds, this.speed, this.load, this.cooling.coolant);
    if (this.state === "running") this.runTime += seconds;
  }

  #turn(seconds: number): void {
    this.starterCurrent = 0;
    switch (this.state) {
      case "cranking":
        this.#crank(seconds);
        break;
      case "running":
        this.#govern(seconds);
        break;
      case "running-down":
        this.speed = Math.max(0, this.speed - RUN_DOWN * seconds);
        if (this.speed === 0) this.state = "stopped";
        break;
    }
  }

  /** The rush of current breaks the starter away; then it turns the engine, a bump a compression. */
  #crank(seconds: number): void {
    this.#cranked += seconds;
    this.starterCurrent = this.#cranked <= 0.2 ? 450 : 210 + this.#random.noise(25);
    const bump = this.make.crankingSpeed + this.#random.noise(25);
    this.speed += (bump - this.speed) * Math.min(1, seconds / 0.15);
    if (this.#cranked >= this.#crankingTime) this.state = "running";
  }

  #govern(seconds: number): void {
    const wanted = this.demanded + this.#hunting.step(seconds);
    const change = (wanted - this.speed) * Math.min(1, seconds / 0.5);
    const most = (this.speed < 0.8 * this.make.idleSpeed ? 3 : 1) * PULL_UP * seconds;
    this.speed += Math.min(most, Math.max(-RUN_DOWN * seconds, change));
  }

  /** Load by the propeller law, plus what it takes to gather speed. */
  #burn(acceleration: number): void {
    if (this.state !== "running") {
      this.load = 0;
      this.fuelRate = 0;
      return;
    }
    const { ratedSpeed, driven, freeFuel, fullLoadFuel } = this.make;
    const share = this.speed / ratedSpeed;
    const friction = 0.02 + 0.04 * share;
    const propeller = this.inGear ? driven * share ** 3 : 0;
    const gathering = 0.25 * Math.max(0, acceleration) / PULL_UP;
    this.load = Math.min(1, friction + propeller + gathering);
    this.fuelRate = freeFuel[0] + freeFuel[1] * this.speed +
      fullLoadFuel * this.load * Math.min(1, share + 0.3);
  }
}
