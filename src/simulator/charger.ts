import { CABLE, type ChargeSource, currentOf } from "./battery.ts";

/** The standard's words for a charger's operating state, as far as this one knows them. */
export type ChargerState = "not-charging" | "bulk" | "absorption" | "float" | "fault";

/** V of one whose regulator has failed. */
const OVERCHARGE_VOLTS = 15.6;
const ABSORPTION_VOLTS = 14.2;
const FLOAT_VOLTS = 13.5;
const AMPERES = 40;
/** Absorption ends below this current (a fiftieth of the bank), or after an hour. */
const TAIL_AMPERES = 8;
const LONGEST_ABSORPTION = 3600;
/** Below this for a minute, float begins again with bulk. */
const BULK_AGAIN_VOLTS = 13.1;

/** A charger on shore power for the house bank. */
export class Charger implements ChargeSource {
  readonly resistance = CABLE;
  state: ChargerState = "not-charging";
  shorePower = false;
  broken = false;
  /** Its own switch is off: shore power is there, and it does nothing. */
  asleep = false;
  /** Its regulator has failed: it goes on pushing, whatever the battery says. */
  overcharging = false;
  /** A that it gives. */
  current = 0;
  /** Seconds in which the condition for the next state has held. */
  #held = 0;

  get volts(): number {
    if (this.overcharging) return OVERCHARGE_VOLTS;
    return this.state === "float" ? FLOAT_VOLTS : ABSORPTION_VOLTS;
  }

  get mostAmperes(): number {
    return this.state === "not-charging" || this.state === "fault" ? 0 : AMPERES;
  }

  /** `volts` at the battery's posts. */
  step(seconds: number, volts: number): void {
    this.current = currentOf(this, volts);
    const next = this.#next(seconds, volts);
    if (next === this.state) return;
    this.state = next;
    this.#held = 0;
  }

  #next(seconds: number, volts: number): ChargerState {
    if (!this.shorePower || this.asleep) return "not-charging";
    if (this.broken) return "fault";
    switch (this.state) {
      case "bulk":
        return this.#lasts(seconds, this.current < 0.95 * AMPERES) > 5 ? "absorption" : "bulk";
      case "absorption":
        this.#held += seconds;
        return this.current < TAIL_AMPERES || this.#held > LONGEST_ABSORPTION
          ? "float"
          : "absorption";
      case "float":
        return this.#lasts(seconds, volts < BULK_AGAIN_VOLTS) > 60 ? "bulk" : "float";
      default:
        return "bulk";
    }
  }

  #lasts(seconds: number, condition: boolean): number {
    this.#held = condition ? this.#held + seconds : 0;
    return this.#held;
  }
}
