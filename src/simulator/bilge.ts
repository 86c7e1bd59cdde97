/** L at which the pump's own switch closes and opens, and at which the high-water float does. */
const PUMP_ON = 12;
const PUMP_OFF = 3;
const FLOAT_ON = 30;
const FLOAT_OFF = 25;
/** L/s: a pump of about 1,800 L/h against its head. */
const PUMPED = 0.5;
/** L that run back from the hose when the pump stops. */
const HOSE = 0.8;
export const PUMP_AMPERES = 4.5;

/** A bilge that fills, the pump that empties it, and a high-water float above. */
export class Bilge {
  pumping = false;
  /** The high-water float. */
  floating = false;

  /** `inflow` in L/h, `water` in L. */
  constructor(public inflow: number, public water: number) {}

  step(seconds: number): void {
    this.water += this.inflow * seconds / 3600;
    if (this.pumping) {
      this.water = Math.max(0, this.water - PUMPED * seconds);
      if (this.water <= PUMP_OFF) {
        this.pumping = false;
        this.water += HOSE;
      }
    } else if (this.water >= PUMP_ON) {
      this.pumping = true;
    }
    if (this.water >= FLOAT_ON) this.floating = true;
    else if (this.water <= FLOAT_OFF) this.floating = false;
  }
}
