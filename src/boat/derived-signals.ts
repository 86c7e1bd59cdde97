import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import type { Carriers } from "./carriers.ts";
import { signalName } from "./naming.ts";
import { Quality, Reason } from "./quality.ts";

/** The lowest volts that were received while an engine's starter turned it (`CrankingVoltages`). */
export const CRANKING_VOLTAGE = "cranking-voltage";

/** A quantity that no device sends. */
export interface WorkedOut {
  readonly group: string;
  readonly quantity: string;
  readonly unit: UnitCode;
  readonly decimals: number;
  readonly span: number | null;
  /** Change that is worth telling. */
  readonly deadband: number;
}

/**
 * Health of the buses, of watched devices and of the computer's clock, whose counts are of a second;
 * and the volts of an engine's starts.
 */
export const WORKED_OUT: readonly WorkedOut[] = [
  ...[
    network("load", "%", 1, 100, 1),
    network("frames", "1", 0, null, 50),
    network("error-frames", "1", 0, 100, 0),
    network("lost-messages", "1", 0, 100, 0),
    network("gaps", "1", 0, null, 0),
    network("address-conflicts", "1", 0, null, 0),
    network("bus-off", "1", 0, null, 0),
    network("unnamed", "1", 0, null, 0),
    network("voltage", "V", 2, 2, 0.05),
  ],
  {
    group: "watched-device",
    quantity: "not-heard",
    unit: "1",
    decimals: 0,
    span: null,
    deadband: 0,
  },
  { group: "computer", quantity: "clock-offset", unit: "s", decimals: 1, span: 60, deadband: 1 },
  ...["engine", "generator"].map((group): WorkedOut => ({
    ...{ group, quantity: CRANKING_VOLTAGE, unit: "V", decimals: 2, span: 2, deadband: 0 },
  })),
];

function network(
  quantity: string,
  unit: UnitCode,
  decimals: number,
  span: number | null,
  deadband: number,
): WorkedOut {
  return { group: "network", quantity, unit, decimals, span, deadband };
}

/** Signals that are worked out here, each with a carrier of its own. */
export class DerivedSignals {
  constructor(readonly carriers: Carriers) {}

  /** The number of a signal of `WORKED_OUT`, made if new; -1 where there are too many. */
  make(group: string, subject: string, quantity: string): number {
    const { table } = this.carriers;
    const name = signalName(group, subject, quantity);
    const known = table.find(name);
    if (known >= 0 || this.carriers.full) return known;
    const facts = WORKED_OUT.find((one) => one.group === group && one.quantity === quantity);
    if (facts === undefined) throw new RangeError(`${name} is no signal that is worked out`);
    const signal = table.intern({ ...facts, name, subject, words: null, derived: true });
    table.carriers[signal] = this.carriers.add(-1, 0, Infinity);
    return signal;
  }

  /** Says a value, or NaN for one that is not known. Nothing happens while it stays the same. */
  say(signal: number, value: number, now: Micros): void {
    if (signal < 0) return;
    const { table } = this.carriers;
    const isKnown = !Number.isNaN(value);
    const reason = isKnown ? Reason.none : Reason.notAvailable;
    if (table.reasons[signal] === reason && (table.values[signal] === value || !isKnown)) {
      table.carrierHeard[table.carriers[signal]] = now;
    } else this.tell(signal, value, now);
  }

  /** The same for what happens once in a while: two equal values after each other are two. */
  tell(signal: number, value: number, now: Micros): void {
    if (signal < 0) return;
    const { table } = this.carriers;
    table.carrierHeard[table.carriers[signal]] = now;
    const isKnown = !Number.isNaN(value);
    const reason = isKnown ? Reason.none : Reason.notAvailable;
    table.set(signal, value, isKnown ? Quality.good : Quality.bad, reason, now);
  }
}
