/**
 * An hour of one signal as bytes, about eight a minute. Numbers are whole counts of the signal's last
 * decimal, the mean three decimals finer, so they come back just as they were given (a value that
 * has more is rounded). Each interval:
 *
 *     minute of the hour (1 byte), length in minutes, count,
 *     least − least of the interval before (zigzag), mean − least, greatest − least
 *
 * in variable-length integers of seven bits a byte, lowest first. Of words only the number of the
 * word follows the count.
 */
export type BlockEntry = NumberEntry | WordEntry;

interface AnyEntry {
  /** 0 to 59. */
  readonly minute: number;
  readonly length: number;
  readonly count: number;
}

export interface NumberEntry extends AnyEntry {
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

export interface WordEntry extends AnyEntry {
  /** Number of the word in the signal's list. */
  readonly word: number;
}

/** Decimals that are kept at most: with more, six digits before the point would not fit. */
export const MOST_DECIMALS = 7;
const FINER = 1000;

export function packNumbers(entries: readonly NumberEntry[], decimals: number): Uint8Array {
  const scale = 10 ** Math.min(decimals, MOST_DECIMALS);
  const writer = new Writer();
  let before = 0;
  for (const { minute, length, count, min, mean, max } of entries) {
    const least = Math.round(min * scale);
    const spread = Math.max(0, Math.round(max * scale) - least);
    const middle = Math.round(mean * scale * FINER) - least * FINER;
    writer.byte(minute);
    writer.whole(length);
    writer.whole(count);
    writer.signed(least - before);
    writer.whole(Math.min(spread * FINER, Math.max(0, middle)));
    writer.whole(spread);
    before = least;
  }
  return writer.taken();
}

export function unpackNumbers(bytes: Uint8Array, decimals: number): NumberEntry[] {
  const scale = 10 ** Math.min(decimals, MOST_DECIMALS);
  const reader = new Reader(bytes);
  const entries: NumberEntry[] = [];
  let least = 0;
  while (!reader.ended) {
    const [minute, length, count] = [reader.byte(), reader.whole(), reader.whole()];
    least += reader.signed();
    const middle = least * FINER + reader.whole();
    const greatest = least + reader.whole();
    entries.push({
      minute,
      length,
      count,
      min: least / scale,
      mean: middle / (scale * FINER),
      max: greatest / scale,
    });
  }
  return entries;
}

export function packWords(entries: readonly WordEntry[]): Uint8Array {
  const writer = new Writer();
  for (const { minute, length, count, word } of entries) {
    writer.byte(minute);
    for (const number of [length, count, word]) writer.whole(number);
  }
  return writer.taken();
}

export function unpackWords(bytes: Uint8Array): WordEntry[] {
  const reader = new Reader(bytes);
  const entries: WordEntry[] = [];
  while (!reader.ended) {
    const [minute, length, count] = [reader.byte(), reader.whole(), reader.whole()];
    entries.push({ minute, length, count, word: reader.whole() });
  }
  return entries;
}

/** The entries with one put in its place in time; one of the same minute is replaced. */
export function withEntry<T extends BlockEntry>(entries: readonly T[], entry: T): T[] {
  const others = entries.filter(({ minute }) => minute !== entry.minute);
  const at = others.findIndex(({ minute }) => minute > entry.minute);
  return others.toSpliced(at < 0 ? others.length : at, 0, entry);
}

class Writer {
  #bytes: number[] = [];

  byte(value: number): void {
    this.#bytes.push(value);
  }

  /** From 0 to 2^53 − 1: more bits than a bitwise operator takes. */
  whole(value: number): void {
    let rest = value;
    while (rest >= 128) {
      this.#bytes.push(128 + rest % 128);
      rest = Math.floor(rest / 128);
    }
    this.#bytes.push(rest);
  }

  signed(value: number): void {
    this.whole(value >= 0 ? 2 * value : -2 * value - 1);
  }

  taken(): Uint8Array {
    return Uint8Array.from(this.#bytes);
  }
}

class Reader {
  #at = 0;

  constructor(readonly bytes: Uint8Array) {}

  get ended(): boolean {
    return this.#at >= this.bytes.length;
  }

  byte(): number {
    return this.bytes[this.#at++] ?? 0;
  }

  whole(): number {
    let value = 0;
    for (let place = 1;; place *= 128) {
      const byte = this.byte();
      value += (byte % 128) * place;
      if (byte < 128) return value;
    }
  }

  signed(): number {
    const whole = this.whole();
    return whole % 2 === 0 ? whole / 2 : -(whole + 1) / 2;
  }
}
