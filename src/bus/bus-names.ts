/**
 * Numbers for buses, in the order in which they are first met. A bus is called by its network
 * interface ("can0"), or by the name the person gave an input ("can1=slcan:…").
 */
export class BusNames {
  readonly #names: string[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #given = new Set<string>();
  /** Live inputs whose bus has no name before it speaks. */
  nameless = 0;

  /** @throws {RangeError} beyond 16 buses, which no boat has: the input is not a recording. */
  numberOf(name: string): number {
    const known = this.#numbers.get(name);
    if (known !== undefined) return known;
    const number = this.#names.length;
    if (number === MOST_BUSES) throw new RangeError(`more than ${MOST_BUSES} buses in one run`);
    this.#names.push(name);
    this.#numbers.set(name, number);
    return number;
  }

  /** The number of a bus that an input names: it is known before anything is heard from it. */
  give(name: string): number {
    this.#given.add(name);
    return this.numberOf(name);
  }

  /** Names of buses that inputs have given; others were only met in what came. */
  get given(): ReadonlySet<string> {
    return this.#given;
  }

  has(name: string): boolean {
    return this.#numbers.has(name);
  }

  nameOf(number: number): string {
    return this.#names[number];
  }

  get count(): number {
    return this.#names.length;
  }
}

/** Four bits in the keys of `nmea2000/` and `boat/`. */
export const MOST_BUSES = 16;
