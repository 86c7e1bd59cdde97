import type { UnitCode } from "../units/codes.ts";

/** What signals of one sort share, whatever their group. */
export interface Quantity {
  readonly unit: UnitCode;
  /** Width of the usual range in `unit`, for room left (contract §5). */
  readonly span?: number;
  /** Change in `unit` that is worth telling; without it every change is. */
  readonly deadband?: number;
}

/**
 * Sorts of quantity; most are called like the quantity itself. Spans of oil pressure, coolant
 * temperature and voltage are the contract's; the others are judgement, as are all deadbands (about
 * the noise of a common sender).
 */
export const QUANTITIES: Readonly<Record<string, Quantity>> = {
  "speed": { unit: "1/min", span: 3000, deadband: 10 },
  "oil-pressure": { unit: "Pa", span: 400_000, deadband: 5000 },
  "oil-temperature": { unit: "Cel", span: 60, deadband: 0.5 },
  "coolant-temperature": { unit: "Cel", span: 60, deadband: 0.5 },
  "coolant-pressure": { unit: "Pa", span: 100_000, deadband: 2000 },
  "fuel-pressure": { unit: "Pa", span: 400_000, deadband: 5000 },
  "fuel-rate": { unit: "L/h", span: 100, deadband: 0.5 },
  "boost-pressure": { unit: "Pa", span: 200_000, deadband: 2000 },
  "alternator-voltage": { unit: "V", span: 2, deadband: 0.05 },
  "load": { unit: "%", span: 100, deadband: 1 },
  "torque": { unit: "%", span: 100, deadband: 1 },
  "trim": { unit: "%", span: 100, deadband: 1 },
  "hours": { unit: "h", deadband: 0.01 },
  "engine-temperature": { unit: "Cel", span: 60, deadband: 0.5 },
  "exhaust-temperature": { unit: "Cel", span: 60, deadband: 0.5 },
  "low-pressure": { unit: "Pa", span: 20_000, deadband: 500 },
  "gearbox-oil-pressure": { unit: "Pa", span: 2_000_000, deadband: 20_000 },
  "gear": { unit: "" },
  "voltage": { unit: "V", span: 2, deadband: 0.02 },
  "current": { unit: "A", span: 200, deadband: 0.5 },
  "temperature": { unit: "Cel", span: 60, deadband: 0.2 },
  "ac-voltage": { unit: "V", span: 50, deadband: 0.5 },
  "frequency": { unit: "Hz", span: 10, deadband: 0.05 },
  "power": { unit: "W", span: 5000, deadband: 10 },
  "factor": { unit: "1", deadband: 0.01 },
  "count": { unit: "1" },
  "share": { unit: "%", span: 100, deadband: 1 },
  "state-of-charge": { unit: "%", span: 100, deadband: 0.5 },
  "state-of-health": { unit: "%", span: 100, deadband: 0.5 },
  "time-remaining": { unit: "min", span: 600, deadband: 1 },
  "ripple-voltage": { unit: "V", span: 1, deadband: 0.02 },
  "operating-state": { unit: "" },
  "charge-mode": { unit: "" },
  "enabled": { unit: "" },
  "level": { unit: "%", span: 100, deadband: 0.5 },
  "volume": { unit: "L" },
  "charge": { unit: "A.h" },
  "latitude": { unit: "deg", deadband: 0.00001 },
  "longitude": { unit: "deg", deadband: 0.00001 },
  "way": { unit: "m/s", span: 10, deadband: 0.05 },
  "depth": { unit: "m", span: 20, deadband: 0.1 },
  "depth-offset": { unit: "m" },
  "length": { unit: "m", deadband: 1 },
  "turn": { unit: "deg/s", deadband: 0.1 },
  "pressure": { unit: "Pa", span: 400_000, deadband: 2000 },
  "atmospheric-pressure": { unit: "Pa", span: 10_000, deadband: 50 },
  "humidity": { unit: "%", span: 100, deadband: 1 },
  "wind": { unit: "m/s", span: 20, deadband: 0.2 },
  "angle": { unit: "deg", deadband: 1 },
  "state": { unit: "" },
  "status": { unit: "1" },
};

/** "2 V per 12 V": spans of a battery's voltage are for this nominal voltage. */
export const SPAN_NOMINAL_VOLTS = 12;
