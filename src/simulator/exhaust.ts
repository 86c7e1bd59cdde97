import { along, type Curve } from "./curve.ts";
import type { Engine } from "./engine.ts";

/** K above the sea in a wet elbow with all its water, over load: common practice, 40 to 55 °C. */
const WARMER: Curve = [[0, 12], [1, 38]];
/** K above the sea that the gas would bring it to without any water. */
const DRY: Curve = [[0, 130], [1, 420]];
/** Seconds in which the elbow follows. */
const LAG = 12;
const LAG_AT_REST = 900;

/** The wet exhaust of an engine: raw water cools it, and the lack of it shows here first. */
export class Exhaust {
  /** °C of the elbow. */
  temperature: number;

  constructor(readonly engine: Engine, sea: number) {
    this.temperature = sea + 4;
  }

  step(seconds: number, sea: number): void {
    const { load, speed, cooling } = this.engine;
    const dry = Math.max(0, 1 - cooling.open) ** 2;
    const warmer = along(WARMER, load) * (1 - dry) + along(DRY, load) * dry;
    const wanted = speed > 0 ? sea + warmer : sea + 8;
    this.temperature += (wanted - this.temperature) * seconds / (speed > 0 ? LAG : LAG_AT_REST);
  }
}
