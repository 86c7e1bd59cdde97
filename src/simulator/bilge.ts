import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** The shape of a bilge and of what stands in it. All in L. */
export interface BilgeMake {
  /** At which the pump's own switch closes and opens. */
  readonly pumpOn: number;
  readonly pumpOff: number;
  /** At which the high-water float does. */
  readonly floatOn: number;
  readonly floatOff: number;
  /** That run back from the hose when the pump stops. */
  readonly hose: number;
}

export const DEEP_BILGE: BilgeMake = {
  pumpOn: 12,
  pumpOff: 3,
  floatOn: 30,
  floatOff: 25,
  hose: 0.8,
};

/** A small sump: its pump runs for six seconds. */
export const SUMP: BilgeMake = {
  pumpOn: 6,
  pumpOff: 3,
  floatOn: 18,
  floatOff: 15,
  hose: 0.8,
};

/** L/s: a pump of about 1,800 L/h against its head. */
const PUMPED = 0.5;
const PUMP_AMPERES = 4.5;
/** What a pump with weed in its strainer still lifts, and draws: it churns. */
const CHOKED = 0.06;
const CHOKED_AMPERES = 3;
/** L/h that come back through the pump's hose once it has been filled below the waterline. */
const SIPHONED = 700;
/** A loose high-water float hangs down to this many L above the pump's switch. */
const LOOSE = 0.5;

export type PumpState = "works" | "dead" | "choked";

/** A bilge that fills, the pump that empties it, and a high-water float above. */
export class Bilge {
  /** Whether the pump's switch is closed. */
  pumping = false;
  /** The high-water float. */
  floating = false;
  pump: PumpState = "works";
  /** L/h. */
  inflow: number;
  /** L/h that the inflow grows by in an hour. */
  growing = 0;
  /** The vent of its hose is blocked: after a run the sea comes back through the pump. */
  siphons = false;
  /** The high-water float has come loose, hangs low and follows every wave. */
  loose = false;
  #primed = false;
  readonly #waves: Wander;

  /** `usualInflow` in L/h: what the shaft seal lets in; `water` in L. */
  constructor(
    readonly make: BilgeMake,
    random: Random,
    readonly usualInflow: number,
    public water: number,
  ) {
    this.inflow = usualInflow;
    this.#waves = new Wander(random, 0.4, 0.8);
  }

  /** A that the pump draws. */
  get amperes(): number {
    if (!this.pumping || this.pump === "dead") return 0;
    return this.pump === "choked" ? CHOKED_AMPERES : PUMP_AMPERES;
  }

  /** `rough` is how much the boat rocks the water; 1 is usual. */
  step(seconds: number, rough = 1): void {
    const { make } = this;
    this.inflow += this.growing * seconds / 3600;
    const back = this.siphons && this.#primed && !this.pumping ? SIPHONED : 0;
    this.water += (this.inflow + back) * seconds / 3600;
    if (this.pumping) this.#pump(seconds);
    else if (this.water >= make.pumpOn) this.pumping = true;
    const waves = this.#waves.step(seconds) * rough;
    if (this.loose) this.floating = this.water + waves >= make.pumpOn + LOOSE;
    else if (this.water >= make.floatOn) this.floating = true;
    else if (this.water <= make.floatOff) this.floating = false;
  }

  #pump(seconds: number): void {
    const works = { works: 1, choked: CHOKED, dead: 0 }[this.pump];
    this.water = Math.max(0, this.water - works * PUMPED * seconds);
    if (works === 1) this.#primed = true;
    if (this.water > this.make.pumpOff) return;
    this.pumping = false;
    this.water += this.make.hose;
  }
}
