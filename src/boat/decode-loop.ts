import type { Micros } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Message } from "../nmea2000/message.ts";
import { FieldStatus, readRaw, statusOf } from "../nmea2000/read-field.ts";
import { type Carriers, NO_SIGNAL } from "./carriers.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { numberBelow } from "./operation.ts";
import { Quality, Reason } from "./quality.ts";
import { Mark } from "./signal-table.ts";

// Numbers that are wanted together lie side by side in one array: the first look into each typed
// array costs as much as several more into the same one.

/** How an operation's field is read, and its first slot. */
const enum Step {
  shape = 0,
  at = 1,
  end = 2,
  shift = 3,
  mask = 4,
  slot = 5,
  stride = 8,
}

/**
 * Raw numbers from `from` up to, without, `below` are values; none are where the field is no number.
 * Signal = raw × factor + zero, rounded to 1 / `rounding` (10 to the power of the decimals) as it is
 * read, so that 95 °C sent as 368.15 K does not lie above a limit of 95.
 */
const enum Scale {
  from = 0,
  below = 1,
  factor = 2,
  zero = 3,
  rounding = 4,
  stride = 8,
}

/** Stands for the raw value of a field for which a message was too short; as such not available. */
export const MISSING = Infinity;

/**
 * Reads a message into its carrier's signals: the loop that every message passes. It makes no object
 * and no string, and a field whose bits have not changed costs a comparison.
 */
export class DecodeLoop {
  /** By operation. */
  readonly #steps: Int32Array;
  readonly #scales: Float64Array;

  constructor(
    readonly columns: Columns,
    readonly layouts: MessageLayouts,
    readonly carriers: Carriers,
    /** Makes the signal of a slot at its first value; below 0 where there can be none. */
    readonly makeSignal: (carrier: number, slot: number) => number,
  ) {
    const { operations } = layouts;
    this.#steps = new Int32Array(operations.length * Step.stride);
    this.#scales = new Float64Array(operations.length * Scale.stride);
    for (const [i, { field, scale, shift, slot, slots: [{ decimals }] }] of operations.entries()) {
      const { shape, at, end, shift: bit, mask } = columns;
      const reading = [shape[field], at[field], end[field], bit[field], mask[field]];
      this.#steps.set([...reading, slot], i * Step.stride);
      const range = [columns.plausibleFrom[field], numberBelow(columns, field)];
      this.#scales.set([...range, scale, shift, 10 ** decimals], i * Scale.stride);
    }
  }

  /** @param contested two devices speak for the subject: nothing is better than uncertain */
  decode(message: Message, carrier: number, contested: boolean, now: Micros): void {
    const { bytes, start, length } = message;
    const { firstSlot, lastRaw, layout, signal, table } = this.carriers;
    const { firstOperation } = this.layouts;
    const steps = this.#steps;
    const scales = this.#scales;
    let { values, qualities, reasons, changedAt, marks } = table;
    const quality = contested ? Quality.uncertain : Quality.good;
    const reason = contested ? Reason.twoSenders : Reason.none;
    const base = firstSlot[carrier];
    const past = firstOperation[layout[carrier] + 1];
    for (let operation = firstOperation[layout[carrier]]; operation < past; operation++) {
      const step = operation * Step.stride;
      let raw = MISSING;
      if (steps[step + Step.end] <= length) {
        const first = start + steps[step + Step.at];
        // The commonest shapes of `readRaw`, by the same numbers: a call costs more than they do.
        switch (steps[step + Step.shape]) {
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
            raw = (bytes[first] >> steps[step + Step.shift]) & steps[step + Step.mask];
            break;
          default:
            raw = +readRaw(this.columns, this.layouts.field[operation], bytes, start);
        }
      }
      const place = base + steps[step + Step.slot];
      if (raw === lastRaw[place]) continue;
      lastRaw[place] = raw;
      const number = signal[place];
      const isValue = raw < scales[step + Scale.below] && raw >= scales[step + Scale.from];
      if (isValue && number >= 0) {
        const value = raw * scales[step + Scale.factor] + scales[step + Scale.zero];
        const rounding = scales[step + Scale.rounding];
        const exact = Math.round(value * rounding) / rounding;
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
    const { firstOperation, field } = this.layouts;
    const layout = this.carriers.layout[carrier];
    for (let at = firstOperation[layout]; at < firstOperation[layout + 1]; at++) {
      if (this.columns.end[field[at]] > length) continue;
      const raw = readRaw(this.columns, field[at], bytes, start);
      if (statusOf(this.columns, field[at], raw) === FieldStatus.present) return true;
    }
    return false;
  }

  /** Whether the bits that a carrier last sent for one of its slots are a value. */
  isValue(carrier: number, place: number): boolean {
    const { firstOperation, field, operations } = this.layouts;
    const { layout, firstSlot, lastRaw } = this.carriers;
    const past = firstOperation[layout[carrier] + 1];
    for (let at = firstOperation[layout[carrier]]; at < past; at++) {
      if (firstSlot[carrier] + operations[at].slot !== place) continue;
      const raw = lastRaw[place];
      return !Number.isNaN(raw) && statusOf(this.columns, field[at], raw) === FieldStatus.present;
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
    const step = operation * Step.stride;
    const scales = this.#scales;
    const rounding = scales[step + Scale.rounding];
    const value = raw * scales[step + Scale.factor] + scales[step + Scale.zero];
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
