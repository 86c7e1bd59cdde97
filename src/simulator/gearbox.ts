import type { Engine } from "./engine.ts";

/** Pa of clutch oil in gear and in neutral: typical of makers' manuals, 20 and 6 bar. */
const IN_GEAR = 2_000_000;
const NEUTRAL = 600_000;
/** Speed of the pump, 1/min, at which it has built up two thirds of it. */
const BUILDS = 350;
/** What worn clutch seals leave, and K that slipping plates add. */
const SLIPPING = 0.45;
const RUBBING = 45;
/** Seconds in which the oil warms. */
const WARMING = 400;

/** A gearbox with clutches that are pressed by oil. */
export class Gearbox {
  /** Pa. */
  pressure = 0;
  /** °C of the oil. */
  temperature: number;
  /** Its seals let the clutch slip. */
  slipping = false;

  constructor(readonly engine: Engine, celsius: number) {
    this.temperature = celsius;
  }

  /** `room` in °C. */
  step(seconds: number, room: number): void {
    const { speed, inGear, load } = this.engine;
    const built = (inGear ? IN_GEAR : NEUTRAL) * (1 - Math.exp(-speed / BUILDS));
    const wanted = built * (this.slipping && inGear ? SLIPPING : 1);
    this.pressure += (wanted - this.pressure) * Math.min(1, seconds / 0.3);
    const rubbing = this.slipping && inGear ? RUBBING * load : 0;
    const warm = speed > 0 ? 45 + 30 * load + rubbing : room;
    this.temperature += (warm - this.temperature) * seconds / WARMING;
  }
}
