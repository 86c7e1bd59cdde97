import type { Micros } from "./time.ts";

/**
 * Timers by number, one each, taken in order of due time; equal times in the order that `before`
 * gives. Setting a timer again moves it.
 */
export class TimerHeap {
  #due = new Float64Array(64);
  /** Place in the heap of each timer; -1 when not set. */
  #place = new Int32Array(64).fill(-1);
  #heap = new Int32Array(64);
  #count = 0;

  /** Due time of the next timer; Infinity when none is set. */
  nextDue: Micros = Infinity;

  constructor(readonly before: (a: number, b: number) => boolean = (a, b) => a < b) {}

  set(timer: number, due: Micros): void {
    if (timer >= this.#place.length) this.#growTo(timer + 1);
    let at = this.#place[timer];
    if (at < 0) {
      at = this.#count++;
      this.#heap[at] = timer;
      this.#place[timer] = at;
    }
    this.#due[timer] = due;
    this.#settle(at);
  }

  clear(timer: number): void {
    if (timer >= this.#place.length) return;
    const at = this.#place[timer];
    if (at < 0) return;
    this.#place[timer] = -1;
    const last = this.#heap[--this.#count];
    if (last !== timer) {
      this.#heap[at] = last;
      this.#place[last] = at;
      this.#settle(at);
    } else {
      this.#look();
    }
  }

  /** Due time of a timer; Infinity when it is not set. */
  dueOf(timer: number): Micros {
    return timer < this.#place.length && this.#place[timer] >= 0 ? this.#due[timer] : Infinity;
  }

  /** Removes and returns the next timer; -1 when none is set. */
  take(): number {
    if (this.#count === 0) return -1;
    const timer = this.#heap[0];
    this.clear(timer);
    return timer;
  }

  #settle(from: number): void {
    let at = from;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.#precedes(this.#heap[at], this.#heap[parent])) break;
      this.#swap(at, parent);
      at = parent;
    }
    for (;;) {
      const left = 2 * at + 1;
      if (left >= this.#count) break;
      const right = left + 1;
      const child = right < this.#count && this.#precedes(this.#heap[right], this.#heap[left])
        ? right
        : left;
      if (!this.#precedes(this.#heap[child], this.#heap[at])) break;
      this.#swap(at, child);
      at = child;
    }
    this.#look();
  }

  #look(): void {
    this.nextDue = this.#count === 0 ? Infinity : this.#due[this.#heap[0]];
  }

  #precedes(a: number, b: number): boolean {
    const difference = this.#due[a] - this.#due[b];
    return difference < 0 || (difference === 0 && this.before(a, b));
  }

  #swap(a: number, b: number): void {
    const timer = this.#heap[a];
    this.#heap[a] = this.#heap[b];
    this.#heap[b] = timer;
    this.#place[this.#heap[a]] = a;
    this.#place[this.#heap[b]] = b;
  }

  #growTo(size: number): void {
    const length = Math.max(size, this.#place.length * 2);
    const due = new Float64Array(length);
    due.set(this.#due);
    this.#due = due;
    const place = new Int32Array(length).fill(-1);
    place.set(this.#place);
    this.#place = place;
    const heap = new Int32Array(length);
    heap.set(this.#heap);
    this.#heap = heap;
  }
}
