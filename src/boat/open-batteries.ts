import type { Micros } from "../ground/time.ts";
import type { Boat } from "./boat.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** A: less than this is no current, either way. */
const NO_CURRENT = 1;
/** V of a bank of 12 V: the volts jump by so much where nothing holds them any more (judgement). */
const JUMP = 0.3;
/** V of a bank of 12 V: so high stands only what is being charged (judgement). */
const CHARGED = 13.9;

/** A signal that may not have been heard of yet: then its number is -1. */
interface Awaited {
  readonly name: string;
  signal: number;
}

interface Bank {
  readonly voltage: Awaited;
  readonly current: Awaited;
  readonly charge: Awaited;
  /** Its nominal volts, as a share of 12 V. */
  readonly scale: number;
  lastVoltage: number;
  lastCurrent: number;
  isOpen: boolean;
}

/**
 * Lithium batteries whose own protection has opened while they were charged: from one message to
 * the next the current is gone and the volts jump. What the shunt then says of the state of charge is
 * about a battery that nothing goes into or out of: it is uncertain until a current flows again.
 *
 * `follow` is called before rules judge.
 */
export class OpenBatteries {
  readonly #banks: readonly Bank[];

  constructor(readonly table: SignalTable, boat: Boat) {
    this.#banks = boat.subjects
      .filter(({ group, words }) => group === "battery" && words.chemistry === "lifepo4")
      .map(({ name, numbers }) => ({
        voltage: { name: `battery/${name}/voltage`, signal: -1 },
        current: { name: `battery/${name}/current`, signal: -1 },
        charge: { name: `battery/${name}/state-of-charge`, signal: -1 },
        scale: (numbers.nominal ?? 12) / 12,
        lastVoltage: NaN,
        lastCurrent: NaN,
        isOpen: false,
      }));
  }

  /** Looks at what the last message said. */
  follow(now: Micros): void {
    for (const bank of this.#banks) {
      const voltage = this.#value(bank.voltage);
      const current = this.#value(bank.current);
      if (!bank.isOpen) bank.isOpen = hasOpened(bank, voltage, current);
      else if (Math.abs(current) > NO_CURRENT) this.#close(bank, now);
      // While one of them is not known, what was known last stays to be compared with.
      if (!Number.isNaN(voltage)) bank.lastVoltage = voltage;
      if (!Number.isNaN(current)) bank.lastCurrent = current;
      if (bank.isOpen) this.#doubt(bank, now);
    }
  }

  #doubt({ charge }: Bank, now: Micros): void {
    const { table } = this;
    const signal = this.#find(charge);
    if (signal < 0 || table.qualities[signal] !== Quality.good) return;
    table.set(signal, table.values[signal], Quality.uncertain, Reason.implausible, now);
  }

  #close(bank: Bank, now: Micros): void {
    const { table } = this;
    const { signal } = bank.charge;
    bank.isOpen = false;
    if (signal < 0 || table.qualities[signal] !== Quality.uncertain) return;
    if (table.reasons[signal] !== Reason.implausible) return;
    table.set(signal, table.values[signal], Quality.good, Reason.none, now);
  }

  /** NaN where it is not known. */
  #value(awaited: Awaited): number {
    const { table } = this;
    const signal = this.#find(awaited);
    return signal >= 0 && table.qualities[signal] === Quality.good ? table.values[signal] : NaN;
  }

  #find(awaited: Awaited): number {
    if (awaited.signal >= 0) return awaited.signal;
    awaited.signal = this.table.find(awaited.name);
    if (awaited.signal >= 0) this.table.heed(awaited.signal);
    return awaited.signal;
  }
}

function hasOpened(bank: Bank, voltage: number, current: number): boolean {
  const { lastVoltage, lastCurrent, scale } = bank;
  return lastCurrent > NO_CURRENT && Math.abs(current) <= NO_CURRENT &&
    voltage > CHARGED * scale && voltage - lastVoltage >= JUMP * scale;
}
