import { CABLE, type ChargeSource } from "./battery.ts";
import { along, type Curve } from "./curve.ts";

/** A that one of 90 A can give over engine speed, 1/min: it cuts in a little below idle. */
const OUTPUT: Curve = [[500, 0], [700, 25], [1300, 65], [2600, 90]];
const USUAL_AMPERES = 90;
/** V that its field goes on making when the battery is suddenly gone, and for how many seconds. */
const SURGE_VOLTS = 2.3;
const SURGE = 0.5;
/** V that a failed regulator adds. */
const UNREGULATED = 2.2;

/** An alternator with its own regulator; it charges once the engine has run for a moment. */
export class Alternator implements ChargeSource {
  readonly resistance = CABLE;
  mostAmperes = 0;
  /** Its belt is off, or its diodes have failed. */
  dead = false;
  /** Its regulator has failed, and it gives too many volts. */
  unregulated = false;
  #excited = 0;
  #surging = 0;

  /** It holds `regulated` V and gives `amperes` at 2,600 rpm. */
  constructor(readonly regulated: number, readonly amperes = USUAL_AMPERES) {}

  get volts(): number {
    return this.regulated + (this.#surging > 0 ? SURGE_VOLTS : 0) +
      (this.unregulated ? UNREGULATED : 0);
  }

  /** What it charged is gone at once: the field takes a moment to fall. */
  loseBattery(): void {
    if (this.mostAmperes > 0) this.#surging = SURGE;
  }

  /** `running` is false while the starter turns or the engine runs down. */
  step(seconds: number, running: boolean, speed: number): void {
    this.#excited = running ? this.#excited + seconds : 0;
    this.#surging = Math.max(0, this.#surging - seconds);
    const warm = Math.min(1, Math.max(0, (this.#excited - 2) / 3));
    const size = this.amperes / USUAL_AMPERES;
    this.mostAmperes = this.dead ? 0 : warm * along(OUTPUT, speed) * size;
  }
}
