import { type CoolingMake, DIESEL_COOLING, GENERATOR_COOLING, V8_COOLING } from "./cooling.ts";
import { DIESEL_OIL, GENERATOR_OIL, type OilMake, V8_OIL } from "./oil.ts";

/** What one kind of engine differs in from another. Speeds in 1/min. */
export interface EngineMake {
  readonly fuel: "diesel" | "petrol";
  readonly idleSpeed: number;
  readonly ratedSpeed: number;
  readonly crankingSpeed: number;
  /** L/h of one that turns without load: at no speed, and more for each 1/min. */
  readonly freeFuel: readonly [atRest: number, each: number];
  /** L/h at full load and rated speed, beside that. */
  readonly fullLoadFuel: number;
  /** kW of heat into metal and coolant for each L/h. */
  readonly heat: number;
  /** Share of its torque that the propeller, or the generator's load, takes at rated speed. */
  readonly driven: number;
  readonly oil: OilMake;
  readonly cooling: CoolingMake;
  /** Where its own lamps light: Pa and °C. */
  readonly lamps: { readonly lowOilPressure: number; readonly overTemperature: number };
}

/** A marine diesel of about 150 kW: 10 kWh in a litre, 28 % of it to the coolant. */
export const DIESEL: EngineMake = {
  fuel: "diesel",
  idleSpeed: 700,
  ratedSpeed: 2600,
  crankingSpeed: 180,
  freeFuel: [0.8, 0.0006],
  fullLoadFuel: 40,
  heat: 2.8,
  driven: 0.88,
  oil: DIESEL_OIL,
  cooling: DIESEL_COOLING,
  lamps: { lowOilPressure: 55_000, overTemperature: 102 },
};

/** A petrol V8 of about 200 kW, cooled by the sea itself: 9 kWh in a litre, 28 % to the water. */
export const PETROL_V8: EngineMake = {
  fuel: "petrol",
  idleSpeed: 650,
  ratedSpeed: 4400,
  crankingSpeed: 200,
  freeFuel: [0.9, 0.0012],
  fullLoadFuel: 70,
  heat: 2.5,
  driven: 0.88,
  oil: V8_OIL,
  cooling: V8_COOLING,
  lamps: { lowOilPressure: 28_000, overTemperature: 88 },
};

/** A diesel generator of about 6 kW; "in gear" it carries half of that. */
export const GENERATOR: EngineMake = {
  fuel: "diesel",
  idleSpeed: 1500,
  ratedSpeed: 1500,
  crankingSpeed: 200,
  freeFuel: [0.3, 0.0002],
  fullLoadFuel: 2.6,
  heat: 2.8,
  driven: 0.5,
  oil: GENERATOR_OIL,
  cooling: GENERATOR_COOLING,
  lamps: { lowOilPressure: 70_000, overTemperature: 102 },
};
