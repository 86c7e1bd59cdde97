/** What waits for an earlier one; with more than this the newest are dropped and asked for again. */
const MOST_WAITING = 5_000;

/**
 * Puts numbered things in order: repeats are dropped, what comes early waits, and a gap can be
 * named. A thing has one number, or a range of them.
 */
export class NumberedStream<T> {
  /** The highest number that is known to exist. */
  #known: number;
  /** By first number. */
  readonly #waiting = new Map<number, { readonly to: number; readonly item: T }>();

  /** @param last everything up to this number was given on */
  constructor(public last: number) {
    this.#known = last;
  }

  /** The things that can be given on now, in order. */
  take(from: number, to: number, item: T): T[] {
    this.noteLast(to);
    if (to <= this.last) return [];
    if (from > this.last + 1 && this.#waiting.size >= MOST_WAITING) return [];
    const known = this.#waiting.get(from);
    if (known === undefined || known.to < to) this.#waiting.set(from, { to, item });
    return this.#ready();
  }

  /** The sender says that it has come so far. */
  noteLast(number: number): void {
    this.#known = Math.max(this.#known, number);
  }

  /** The first numbers that did not come though later ones exist; null when none is missing. */
  get missing(): { readonly from: number; readonly to: number } | null {
    if (this.#known <= this.last) return null;
    const next = Math.min(...this.#waiting.keys(), this.#known + 1);
    return { from: this.last + 1, to: next - 1 };
  }

  /** The same stream once more, from behind an earlier number. */
  again(last: number): NumberedStream<T> {
    const stream = new NumberedStream<T>(last);
    stream.noteLast(this.#known);
    return stream;
  }

  /** These numbers are gone for ever; goes on behind them. */
  giveUp(to: number): T[] {
    this.last = Math.max(this.last, to);
    return this.#ready();
  }

  #ready(): T[] {
    const ready: T[] = [];
    for (;;) {
      const next = [...this.#waiting].find(([from, { to }]) =>
        to <= this.last || from <= this.last + 1
      );
      if (next === undefined) return ready;
      const [from, { to, item }] = next;
      this.#waiting.delete(from);
      if (to <= this.last) continue;
      this.last = to;
      ready.push(item);
    }
  }
}
