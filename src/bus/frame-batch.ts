/**
 * Frames as a struct of arrays: no object and no string per frame on the hot path.
 * Readers fill a batch straight from bytes; a consumer must be done with it before it asks
 * for the next one, since readers use one batch again and again.
 */

import type { Micros } from "../ground/time.ts";

/** Bits of `FrameBatch.flags`. */
export const FrameFlag = {
  /** 29-bit identifier; without it the identifier has 11 bits. */
  extended: 1,
  /** Remote request: it has a length but no data. */
  remote: 2,
  /** The adapter reports an error; the identifier is its error class. */
  error: 4,
  /** CAN FD. Neither NMEA 2000 nor J1939 uses it: counted, its data not kept. */
  fd: 8,
} as const;

/** Data bytes a frame occupies in `FrameBatch.data`, used or not. */
export const FRAME_BYTES = 8;

export class FrameBatch {
  /** Integer microseconds since the epoch. */
  readonly times: Float64Array;
  /** Bus numbers as given by `BusNames`. */
  readonly buses: Uint8Array;
  readonly flags: Uint8Array;
  readonly identifiers: Uint32Array;
  /** 0 to 8. */
  readonly lengths: Uint8Array;
  /** Frame i has its bytes at i × 8; unused bytes have no meaning. */
  readonly data: Uint8Array;
  count = 0;
  /**
   * How far the clock that makes the stamps was set forward just before the first frame, where that
   * was found out: no time passed since the frame before.
   */
  clockStep: Micros = 0;

  constructor(readonly capacity: number) {
    this.times = new Float64Array(capacity);
    this.buses = new Uint8Array(capacity);
    this.flags = new Uint8Array(capacity);
    this.identifiers = new Uint32Array(capacity);
    this.lengths = new Uint8Array(capacity);
    this.data = new Uint8Array(capacity * FRAME_BYTES);
  }

  get full(): boolean {
    return this.count === this.capacity;
  }
}

/** The frames of a batch from one on and before another, as a view: nothing is copied. */
export function partOf(batch: FrameBatch, from: number, to: number): FrameBatch {
  return {
    capacity: to - from,
    count: to - from,
    full: true,
    clockStep: from === 0 ? batch.clockStep : 0,
    times: batch.times.subarray(from, to),
    buses: batch.buses.subarray(from, to),
    flags: batch.flags.subarray(from, to),
    identifiers: batch.identifiers.subarray(from, to),
    lengths: batch.lengths.subarray(from, to),
    data: batch.data.subarray(from * FRAME_BYTES, to * FRAME_BYTES),
  };
}
