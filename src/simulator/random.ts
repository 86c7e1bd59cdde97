import { type Micros, MILLISECOND } from "../ground/time.ts";

/**
 * Repeatable chance: the same seed and label give the same numbers on every machine. The generator
 * is "xorshift32" with the shifts 13, 17, 5 (G. Marsaglia, "Xorshift RNGs", Journal of Statistical
 * Software 8/14, 2003); seed and label are joined by the 32-bit FNV-1a hash (Fowler, Noll, Vo).
 *
 * Every part of the boat has a stream of its own, so that a change in one does not shake another.
 */
export class Random {
  #state: number;

  constructor(seed: number, label: string) {
    let hash = 0x811c9dc5 ^ (seed >>> 0);
    for (let i = 0; i < label.length; i++) {
      hash = Math.imul(hash ^ label.charCodeAt(i), 0x01000193);
    }
    this.#state = hash === 0 ? 1 : hash;
    for (let i = 0; i < 8; i++) this.fraction();
  }

  /** 0 to 1, without 1. */
  fraction(): number {
    let x = this.#state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.#state = x;
    return (x >>> 0) / 0x1_0000_0000;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.fraction();
  }

  oneOf<Of>(list: readonly Of[]): Of {
    return list[Math.floor(this.fraction() * list.length)];
  }

  /** A length of time between so many seconds, in whole milliseconds. */
  time(low: number, high: number): Micros {
    return Math.round(this.between(low * 1000, high * 1000)) * MILLISECOND;
  }

  /** Bell-shaped, around zero, never beyond ±`most`: no reading lies far out by chance. */
  noise(most: number): number {
    return most * ((this.fraction() + this.fraction() + this.fraction()) * 2 / 3 - 1);
  }
}
