import { along, type Curve } from "./curve.ts";

/** How an engine holds heat and gives it away. */
export interface CoolingMake {
  /** kJ/K of block and heads, and of what flows in them. */
  readonly metal: number;
  readonly coolant: number;
  /** kW/K between the two while the pump turns; a fifth of it by convection when it stands. */
  readonly metalToCoolant: number;
  /** kW/K to the sea with the thermostat open and the raw-water pump at full speed. */
  readonly toSea: number;
  /** kW/K lost to the engine room. */
  readonly toRoom: number;
  /** Opening of the thermostat over coolant temperature, °C: common practice. */
  readonly thermostat: Curve;
  /** Share of the raw water over engine speed, 1/min. */
  readonly rawWater: Curve;
}

/** An iron block and heads of about 500 kg, 25 L of coolant, a heat exchanger. */
export const DIESEL_COOLING: CoolingMake = {
  metal: 230,
  coolant: 90,
  metalToCoolant: 4,
  toSea: 1.8,
  toRoom: 0.02,
  thermostat: [[77, 0], [86, 1]],
  rawWater: [[0, 0], [700, 0.4], [2600, 1]],
};

/** A lighter block; sea water flows through it, so it is kept cooler, or salt would settle. */
export const V8_COOLING: CoolingMake = {
  metal: 115,
  coolant: 60,
  metalToCoolant: 4,
  toSea: 3.5,
  toRoom: 0.015,
  thermostat: [[60, 0], [71, 1]],
  rawWater: [[0, 0], [650, 0.25], [4400, 1]],
};

export const GENERATOR_COOLING: CoolingMake = {
  metal: 40,
  coolant: 15,
  metalToCoolant: 0.6,
  toSea: 0.3,
  toRoom: 0.005,
  thermostat: [[74, 0], [83, 1]],
  rawWater: [[0, 0], [1500, 1]],
};

/**
 * Metal and coolant as two bodies of heat. Under way the metal is hotter than the coolant; when the
 * engine stops, nothing carries heat away and the coolant takes it up: heat soak.
 */
export class Cooling {
  /** °C, at the sender. */
  coolant: number;
  metal: number;
  /** Share of the way to the sea that is open to water; a plastic bag leaves little. */
  open = 1;

  constructor(readonly make: CoolingMake, celsius: number) {
    this.coolant = celsius;
    this.metal = celsius;
  }

  /** `heat` in kW into the metal, `speed` in 1/min, `sea` and `room` in °C. */
  step(seconds: number, heat: number, speed: number, sea: number, room: number): void {
    const { make } = this;
    const conductance = make.metalToCoolant * (speed > 100 ? 1 : 0.2);
    const inside = conductance * (this.metal - this.coolant);
    const toSea = make.toSea * this.open * along(make.rawWater, speed) *
      along(make.thermostat, this.coolant) * (this.coolant - sea);
    this.metal += (heat - inside - make.toRoom * (this.metal - room)) * seconds / make.metal;
    this.coolant += (inside - toSea) * seconds / make.coolant;
  }
}
