import { type Micros, SECOND } from "../../ground/time.ts";
import type { FrameBatch } from "../frame-batch.ts";

export interface RotationRules {
  /** A file holds at most this much time. */
  readonly every: Micros;
  /** A file has at most about so many bytes, packed. */
  readonly most: number;
}

/** Frames that go into one file: those from `from` up to `to`, into a new one where `begins` is given. */
export interface Portion {
  readonly from: number;
  readonly to: number;
  /** The time of its first frame, by which a new file is named. */
  readonly begins?: Micros;
}

/** Stamps may run back by this much without being a step: two buses, or late hand-over. */
const DISORDER: Micros = SECOND;
/** Stamps may run ahead of the time that has passed by this much: frames were held up on their way. */
const HELD_UP: Micros = 2 * SECOND;

/**
 * Decides where one file ends and the next begins: after a time, after a size, and at a step of the
 * clock that stamps the frames, so that time within a file never jumps.
 */
export class Rotation {
  readonly #rules: RotationRules;
  #begun: Micros | undefined;
  #size = 0;
  #last: Micros = 0;
  #arrived: Micros | undefined;

  constructor(rules: RotationRules) {
    this.#rules = rules;
  }

  /** Told of bytes that were written to the file, packed. */
  wrote(bytes: number): void {
    this.#size += bytes;
  }

  /**
   * A batch in portions, in order.
   * @param arrival steady time at which a live batch came; undefined for recorded frames, whose
   *   jumps forward are gaps
   */
  portions(batch: FrameBatch, arrival: Micros | undefined): Portion[] {
    const ahead = arrival === undefined || this.#arrived === undefined
      ? Infinity
      : arrival - this.#arrived + HELD_UP;
    const portions: Portion[] = [];
    let from = 0;
    let begins: Micros | undefined;
    for (let index = 0; index < batch.count; index++) {
      const time = batch.times[index];
      if (this.#beginsAt(time, ahead)) {
        if (index > from) portions.push({ from, to: index, begins });
        from = index;
        begins = time;
        this.#begun = time;
        this.#size = 0;
      }
      this.#last = time;
    }
    if (batch.count > from) portions.push({ from, to: batch.count, begins });
    this.#arrived = arrival;
    return portions;
  }

  #beginsAt(time: Micros, ahead: Micros): boolean {
    if (this.#begun === undefined) return true;
    if (time < this.#last - DISORDER || time - this.#last > ahead) return true;
    return time >= this.#begun + this.#rules.every || this.#size >= this.#rules.most;
  }
}
