import { DAY, type Micros, SECOND } from "../../ground/time.ts";
import type { Columns } from "../../nmea2000/columns.ts";
import type { Message } from "../../nmea2000/message.ts";
import { senderOf } from "../../nmea2000/message-counts.ts";
import { FieldStatus, readRaw, statusOf } from "../../nmea2000/read-field.ts";
import { CLOCK_QUIET, clockAfter, type ClockBelief, NO_BELIEF } from "./bus-clock.ts";

/** System time, GNSS position data, time and date: days and seconds since the epoch, in UTC. */
const CLOCK_PGNS: readonly number[] = [126992, 129029, 129033];

/** Reads date and time out of the messages that have them. */
export class ClockMessages {
  belief: ClockBelief = NO_BELIEF;
  /** By row: 1 where `take` has something to read. */
  readonly isTold: Uint8Array;
  /** By row: its fields of the date and the time; -1 for rows without. */
  readonly #dates: Int16Array;
  readonly #times: Int16Array;

  constructor(readonly columns: Columns, readonly notBefore: Micros) {
    const fieldOf = (name: string) =>
      Int16Array.from(
        columns.rows,
        ({ pgn }, row) => CLOCK_PGNS.includes(pgn) ? columns.fieldOf(row, name) : -1,
      );
    this.#dates = fieldOf("date");
    this.#times = fieldOf("time");
    this.isTold = Uint8Array.from(this.#dates, (date) => date < 0 ? 0 : 1);
  }

  /** @param message of a row that `isTold` @param wallOf what the computer's clock says at a steady time; asked only for such messages */
  take(message: Message, now: Micros, wallOf: (steady: Micros) => Micros): void {
    const { bus, row, source } = message;
    const days = this.#read(this.#dates[row], message);
    const seconds = this.#read(this.#times[row], message);
    if (Number.isNaN(days) || Number.isNaN(seconds)) return;
    const stated = Math.round(days * DAY + seconds * SECOND);
    const statement = { sender: senderOf(bus, source), stated, now, wall: wallOf(now) };
    this.belief = clockAfter(this.belief, statement, this.notBefore);
  }

  /** Seconds that the computer's clock is slow; NaN while nothing on the bus is believed. */
  offset(now: Micros, wall: Micros): number {
    const { belief } = this;
    if (belief.kind !== "believed" || now - belief.at >= CLOCK_QUIET) return NaN;
    return Math.round((now + belief.offset - wall) * 10 / SECOND) / 10;
  }

  /** NaN unless the field is there and has a value. */
  #read(field: number, { bytes, start, length }: Message): number {
    const { columns } = this;
    if (columns.end[field] > length) return NaN;
    const raw = readRaw(columns, field, bytes, start);
    if (statusOf(columns, field, raw) !== FieldStatus.present) return NaN;
    return raw * columns.resolution[field] + columns.offset[field];
  }
}
