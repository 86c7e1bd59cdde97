import type { Micros } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Message } from "../nmea2000/message.ts";
import { FieldStatus, readRaw, statusOf } from "../nmea2000/read-field.ts";
import { type Carriers, NO_SIGNAL } from "./carriers.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { Quality, Reason } from "./quality.ts";
import { Mark } from "./signal-table.ts";

/** Stands for the raw value of a field for which a message was too short; as such not available. */
export const MISSING = Infinity;

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
    const { bytes, start, length } = message;
    const { lastRaw, signal, firstSlot, layout, table } = this.carriers;
    const { firstOperation, shape, at, end, fieldShift, fieldMask, slot } = this.layouts;
    const { numberFrom, numberBelow, scale, shift, rounding } = this.layouts;
    let { values, qualities, reasons, changedAt, marks } = table;
    const quality = contested ? Quality.uncertain : Quality.good;
    const reason = contested ? Reason.twoSenders : Reason.none;
    const base = firstSlot[carrier];
    const past = firstOperation[layout[carrier] + 1];
    for (let operation = firstOperation[layout[carrier]]; operation < past; operation++) {
      let raw = MISSING;
      if (end[operation] <= length) {
        const first = start + at[operation];
        // The commonest shapes of `readRaw`, by the same numbers: a call costs more than they do.
        switch (shape[operation]) {
          case 0: // u8
            raw = bytes[first];
            break;
          case 1: // u16
            raw = bytes[first] | (bytes[first + 1] << 8);
            break;
          case 4: // i8
            raw = (bytes[first] << 24) >> 24;
            break;
          case 5: // i16
            raw = ((bytes[first] | (bytes[first + 1] << 8)) << 16) >> 16;
            break;
          case 10: // bitsOf8
            raw = (bytes[first] >> fieldShift[operation]) & fieldMask[operation];
            break;
          default:
            raw = readRaw(this.columns, this.layouts.field[operation], bytes, start);
        }
      }
      const place = base + slot[operation];
      if (raw === lastRaw[place]) continue;
      lastRaw[place] = raw;
      const number = signal[place];
      const isValue = raw < numberBelow[operation] && raw >= numberFrom[operation];
      if (isValue && number >= 0) {
        const value = raw * scale[operation] + shift[operation];
        const exact = Math.round(value * rounding[operation]) / rounding[operation];
        // As `SignalTable.set` does it, without fetching the table's parts for every field.
        values[number] = exact;
        qualities[number] = quality;
        reasons[number] = reason;
        changedAt[number] = now;
        if (marks[number] !== Mark.both) table.mark(number);
        continue;
      }
      if (this.layouts.bits[operation] === null) {
        this.#setValue(operation, raw, carrier, place, quality, reason, now);
      } else {
        this.#setBits(operation, raw, carrier, place, quality, reason, now);
      }
      // A signal was made perhaps, and the table has grown.
      ({ values, qualities, reasons, changedAt, marks } = table);
    }
  }

  /** Whether a message has any value for its carrier. */
  hasValue({ bytes, start, length }: Message, carrier: number): boolean {
    const { firstOperation, end, field } = this.layouts;
    const layout = this.carriers.layout[carrier];
    for (let at = firstOperation[layout]; at < firstOperation[layout + 1]; at++) {
      if (end[at] > length) continue;
      const raw = readRaw(this.columns, field[at], bytes, start);
      if (statusOf(this.columns, field[at], raw) === FieldStatus.present) return true;
    }
    return false;
  }

  /** Whether the bits that a carrier last sent for one of its slots are a value. */
  isValue(carrier: number, place: number): boolean {
    const { firstOperation, field, slot } = this.layouts;
    const { layout, firstSlot, lastRaw } = this.carriers;
    const past = firstOperation[layout[carrier] + 1];
    for (let at = firstOperation[layout[carrier]]; at < past; at++) {
      if (firstSlot[carrier] + slot[at] !== place) continue;
      return statusOf(this.columns, field[at], lastRaw[place]) === FieldStatus.present;
    }
    return false;
  }

  /** Whatever the loop itself does not set: words, reserved codes, first values. */
  #setValue(
    operation: number,
    raw: number,
    carrier: number,
    slot: number,
    quality: Quality,
    reason: Reason,
    now: Micros,
  ): void {
    const { layouts, carriers } = this;
    const status = statusOf(this.columns, layouts.field[operation], raw);
    const saysNothing = status === FieldStatus.notAvailable && layouts.optional[operation] === 1;
    const signal = this.#signalOf(carrier, slot, saysNothing || raw === MISSING);
    if (signal < 0) return;
    if (status !== FieldStatus.present) {
      // The numbers of statuses are those of reasons.
      carriers.table.set(signal, NaN, Quality.bad, status, now);
      return;
    }
    const rounding = layouts.rounding[operation];
    const value = raw * layouts.scale[operation] + layouts.shift[operation];
    const exact = Math.round(value * rounding) / rounding;
    const turned = carriers.inverted[slot] === 1 ? 1 - exact : exact;
    carriers.table.set(signal, turned, quality, reason, now);
  }

  /** A word of ones is no alarm on every bit: it says that nothing is known. */
  #setBits(
    operation: number,
    raw: number,
    carrier: number,
    firstSlot: number,
    quality: Quality,
    reason: Reason,
    now: Micros,
  ): void {
    const { columns, layouts, carriers } = this;
    const { table } = carriers;
    const bits = layouts.bits[operation];
    if (bits === null) return;
    const known = raw < columns.notAvailableFrom[layouts.field[operation]];
    for (let i = 0; i < bits.length; i++) {
      const signal = this.#signalOf(carrier, firstSlot + i, raw === MISSING);
      if (signal < 0) continue;
      if (!known) {
        table.set(signal, NaN, Quality.bad, Reason.notAvailable, now);
        continue;
      }
      const value = (raw >>> bits[i]) & 1;
      if (value === table.values[signal] && quality === table.qualities[signal]) continue;
      table.set(signal, value, quality, reason, now);
    }
  }

  #signalOf(carrier: number, slot: number, onlyIfMade: boolean): number {
    const signal = this.carriers.signal[slot];
    if (signal !== NO_SIGNAL || onlyIfMade) return signal;
    return this.makeSignal(carrier, slot);
  }
}
