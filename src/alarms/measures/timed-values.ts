import type { Micros } from "../../ground/time.ts";

const enum Pair {
  value = 0,
  time = 1,
  stride = 2,
}

/**
 * Numbers in the order in which they came, each with a time: a ring that grows as it must. Places
 * count from 0, the oldest.
 */
export class TimedValues {
  count = 0;
  #pairs = new Float64Array(16 * Pair.stride);
  #first = 0;

  value(place: number): number {
    return this.#pairs[this.#at(place) + Pair.value];
  }

  time(place: number): Micros {
    return this.#pairs[this.#at(place) + Pair.time];
  }

  setValue(place: number, value: number): void {
    this.#pairs[this.#at(place) + Pair.value] = value;
  }

  setTime(place: number, time: Micros): void {
    this.#pairs[this.#at(place) + Pair.time] = time;
  }

  add(value: number, time: Micros): void {
    if (this.count * Pair.stride === this.#pairs.length) this.#grow();
    const at = this.#at(this.count++);
    this.#pairs[at + Pair.value] = value;
    this.#pairs[at + Pair.time] = time;
  }

  dropOldest(): void {
    this.#first = this.#at(1);
    this.count--;
  }

  dropLatest(): void {
    this.count--;
  }

  /** Goes on with what another one holds, which is not used any more. */
  adopt(earlier: TimedValues): void {
    this.#pairs = earlier.#pairs;
    this.#first = earlier.#first;
    this.count = earlier.count;
  }

  /** Its length is always a power of two. */
  #at(place: number): number {
    return (this.#first + place * Pair.stride) & (this.#pairs.length - 1);
  }

  #grow(): void {
    const pairs = new Float64Array(this.#pairs.length * 2);
    const toEnd = this.#pairs.subarray(this.#first);
    pairs.set(toEnd);
    pairs.set(this.#pairs.subarray(0, this.#first), toEnd.length);
    this.#pairs = pairs;
    this.#first = 0;
  }
}
