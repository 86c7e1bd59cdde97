import type { FrameBatch } from "../bus/frame-batch.ts";
import type { Micros } from "../ground/time.ts";

/**
 * What a device has measured, by the field names of its message's row and in the units of the
 * wire; `null` is "not available", a list names the status bits that are set. Fields that are not
 * named are sent as not available too.
 */
export type Values = Readonly<Record<string, number | string | readonly string[] | null>>;

export interface OutgoingMessage {
  readonly time: Micros;
  /** As `BusNames` numbers them. */
  readonly bus: number;
  readonly pgn: number;
  readonly source: number;
  readonly values: Values;
}

/** Makes frames of messages. The simulator is given one; it knows no layout itself. */
export interface MessageEncoder {
  /** Writes all frames of a message, stamped with its time; the batch has room for `MOST_FRAMES`. */
  append(batch: FrameBatch, message: OutgoingMessage): void;
}

/** A fast packet has 223 bytes at most: 6 in its first frame and 7 in each of 31 more. */
export const MOST_FRAMES = 32;
