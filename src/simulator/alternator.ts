import { CABLE, type ChargeSource } from "./battery.ts";
import { along, type Curve } from "./curve.ts";

/** A that it can give over engine speed, 1/min: it cuts in a little below idle. */
const OUTPUT: Curve = [[500, 0], [700, 25], [1300, 65], [2600, 90]];

/** An alternator with its own regulator; it charges once the engine has run for a moment. */
export class Alternator implements ChargeSource {
  readonly resistance = CABLE;
  mostAmperes = 0;
  #excited = 0;

  constructor(readonly volts: number) {}

  /** `running` is false while the starter turns or the engine runs down. */
  step(seconds: number, running: boolean, speed: number): void {
    this.#excited = running ? this.#excited + seconds : 0;
    const warm = Math.min(1, Math.max(0, (this.#excited - 2) / 3));
    this.mostAmperes = warm * along(OUTPUT, speed);
  }
}
