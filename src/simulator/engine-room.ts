import type { Engine } from "./engine.ts";

/** K that an engine at full load brings the air to, with its fan and without. */
const WITH_FAN = 22;
const WITHOUT_FAN = 52;
/** Share of the way from air to metal that the air takes when all stands still. */
const SOAK = 0.22;
/** Seconds in which the air follows. */
const LAG = 240;

/** The air around the engines. */
export class EngineRoom {
  /** °C. */
  temperature: number;
  fanWorks = true;

  constructor(readonly engines: readonly Engine[], readonly outside: number) {
    this.temperature = outside;
  }

  step(seconds: number): void {
    const load = Math.max(...this.engines.map((engine) => engine.speed > 0 ? engine.load : 0));
    const metal = Math.max(...this.engines.map((engine) => engine.cooling.metal));
    const running = this.engines.some((engine) => engine.speed > 0);
    const heat = running
      ? (this.fanWorks ? WITH_FAN : WITHOUT_FAN) * (0.3 + 0.7 * load)
      : SOAK * Math.max(0, metal - this.outside);
    this.temperature += (this.outside + heat - this.temperature) * seconds / LAG;
  }
}
