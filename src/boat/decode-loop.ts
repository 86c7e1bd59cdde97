import type { Micros } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Message } from "../nmea2000/message.ts";
import { readRaw } from "../nmea2000/read-field.ts";
import type { Carriers } from "./carriers.ts";
import { NO_SIGNAL } from "./carriers.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { Quality, Reason } from "./quality.ts";

/** Stands for the raw value of a field for which a message was too short. */
export const MISSING = -Infinity;

/**
 * Reads a message into its carrier's signals: the loop that every message passes. It makes no object
 * and no string, and a field whose bits have not changed costs a comparison.
 */
export class DecodeLoop {
  constructor(
    readonly columns: Columns,
    readonly layouts: MessageLayouts,
    readonly carriers: Carriers,
    /** Makes the signal of a slot at its first value; below 0 where there can be none. */
    readonly makeSignal: (carrier: number, slot: number) => number,
  ) {}

  /** @param contested two devices speak for the subject: nothing is better than uncertain */
  decode(message: Message, carrier: number, contested: boolean, now: Micros): void {
    const { columns, layouts, carriers } = this;
    const { bytes, start, length } = message;
    const lastRaw = carriers.lastRaw;
    const field = layouts.field;
    const layout = carriers.layout[carrier];
    const base = carriers.firstSlot[carrier];
    const end = layouts.firstOperation[layout + 1];
    for (let operation = layouts.firstOperation[layout]; operation < end; operation++) {
      const number = field[operation];
      const raw = columns.end[number] <= length ? readRaw(columns, number, bytes, start) : MISSING;
      const slot = base + layouts.slot[operation];
      if (raw === lastRaw[slot]) continue;
      lastRaw[slot] = raw;
      if (layouts.bits[operation] === null) {
        this.#setValue(operation, number, raw, carrier, slot, contested, now);
      } else {
        this.#setBits(operation, number, raw, carrier, slot, contested, now);
      }
    }
  }

  #setValue(
    operation: number,
    field: number,
    raw: number,
    carrier: number,
    slot: number,
    contested: boolean,
    now: Micros,
  ): void {
    const { columns, layouts, carriers } = this;
    const notAvailable = raw >= columns.notAvailableFrom[field] || raw === MISSING;
    const signal = this.#signalOf(
      carrier,
      slot,
      raw === MISSING || (notAvailable && layouts.optional[operation] === 1),
    );
    if (signal < 0) return;
    const table = carriers.table;
    if (notAvailable) {
      table.set(signal, NaN, Quality.bad, Reason.notAvailable, now);
      return;
    }
    const words = columns.words[field];
    if (raw >= columns.outOfRangeFrom[field] || (words !== null && !words.has(raw))) {
      table.set(signal, NaN, Quality.bad, Reason.outOfRange, now);
      return;
    }
    let value = raw * layouts.scale[operation] + layouts.shift[operation];
    const rounding = layouts.rounding[operation];
    value = Math.round(value * rounding) / rounding;
    if (carriers.inverted[slot] === 1) value = 1 - value;
    if (contested) table.set(signal, value, Quality.uncertain, Reason.twoSenders, now);
    else table.set(signal, value, Quality.good, Reason.none, now);
  }

  /** A word of ones is no alarm on every bit: it says that nothing is known. */
  #setBits(
    operation: number,
    field: number,
    raw: number,
    carrier: number,
    firstSlot: number,
    contested: boolean,
    now: Micros,
  ): void {
    const { columns, layouts, carriers } = this;
    const bits = layouts.bits[operation];
    if (bits === null) return;
    const table = carriers.table;
    const known = raw !== MISSING && raw < columns.notAvailableFrom[field];
    const reason = known ? contested ? Reason.twoSenders : Reason.none : Reason.notAvailable;
    const quality = known ? contested ? Quality.uncertain : Quality.good : Quality.bad;
    for (let i = 0; i < bits.length; i++) {
      const signal = this.#signalOf(carrier, firstSlot + i, raw === MISSING);
      if (signal < 0) continue;
      const value = known ? (raw >>> bits[i]) & 1 : NaN;
      if (quality === table.qualities[signal] && quality !== Quality.bad) {
        if (value === table.values[signal]) continue;
      }
      table.set(signal, value, quality, reason, now);
    }
  }

  #signalOf(carrier: number, slot: number, onlyIfMade: boolean): number {
    const signal = this.carriers.signal[slot];
    if (signal !== NO_SIGNAL || onlyIfMade) return signal;
    return this.makeSignal(carrier, slot);
  }
}
