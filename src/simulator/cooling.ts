import { along, type Curve } from "./curve.ts";

/** kJ/K of an iron block and heads of about 500 kg, and of 25 L of coolant. */
const METAL = 230;
const COOLANT = 90;
/** kW/K between the two while the pump turns; a fifth of it by convection when it stands. */
const METAL_TO_COOLANT = 4;
/** kW/K of the heat exchanger with the thermostat open and the raw-water pump at full speed. */
const EXCHANGER = 1.8;
/** kW/K lost to the engine room. */
const TO_ROOM = 0.02;
/** Opening of the thermostat over coolant temperature, °C: common practice for a diesel. */
const THERMOSTAT: Curve = [[77, 0], [86, 1]];
/** Share of the raw water over engine speed, 1/min. */
const RAW_WATER: Curve = [[0, 0], [700, 0.4], [2600, 1]];

/**
 * Metal and coolant as two bodies of heat. Under way the metal is hotter than the coolant; when the
 * engine stops, nothing carries heat away and the coolant takes it up: heat soak.
 */
export class Cooling {
  /** °C, at the sender. */
  coolant: number;
  metal: number;
  /** Share of the heat exchanger that is open to water; a plastic bag leaves little. */
  open = 1;

  constructor(celsius: number) {
    this.coolant = celsius;
    this.metal = celsius;
  }

  /** `heat` in kW into the metal, `speed` in 1/min, `sea` and `room` in °C. */
  step(seconds: number, heat: number, speed: number, sea: number, room: number): void {
    const conductance = METAL_TO_COOLANT * (speed > 100 ? 1 : 0.2);
    const inside = conductance * (this.metal - this.coolant);
    const exchanger = EXCHANGER * this.open * along(RAW_WATER, speed) *
      along(THERMOSTAT, this.coolant) * (this.coolant - sea);
    this.metal += (heat - inside - TO_ROOM * (this.metal - room)) * seconds / METAL;
    this.coolant += (inside - exchanger) * seconds / COOLANT;
  }
}
