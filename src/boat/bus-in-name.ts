import type { BusNames } from "../bus/bus-names.ts";
import type { Boat } from "./boat.ts";
import { topicWord } from "./naming.ts";

/**
 * Whether what is called by number carries the name of its bus. It does where the boat file or the
 * inputs name several buses of NMEA 2000, which is known before anything is heard. Where several
 * turn up that nobody has named, those after the first carry their names: either way no name ever
 * becomes another one. Each input without a name counts as a bus.
 */
export class BusInName {
  /** Buses of NMEA 2000 that neither boat file nor inputs name, where they are not the only one. */
  unnamed: readonly string[] = [];
  /** By name, in the order in which they were heard. */
  readonly #heard: string[] = [];
  /** A bit for each bus that was heard. */
  #met = 0;
  readonly #described: ReadonlySet<string>;
  readonly #j1939: ReadonlySet<string>;

  constructor(boat: Boat, readonly busNames: BusNames) {
    const busesOf = (speaks: "nmea2000" | "j1939") =>
      new Set(boat.networks.filter((it) => it.speaks === speaks).map(({ bus }) => bus));
    this.#described = busesOf("nmea2000");
    this.#j1939 = busesOf("j1939");
  }

  /** A message of NMEA 2000 came from a bus. */
  meet(bus: number): void {
    const bit = 1 << bus;
    if ((this.#met & bit) !== 0) return;
    this.#met |= bit;
    const name = this.busNames.nameOf(bus);
    // The boat file says that it is no bus of NMEA 2000.
    if (this.#j1939.has(name)) return;
    this.#heard.push(name);
    if (this.#heard.length < 2 || this.#areNamed) return;
    const { given } = this.busNames;
    this.unnamed = this.#heard.filter((one) => !this.#described.has(one) && !given.has(one));
  }

  /** What the bus adds to a name: its own name, or nothing. */
  of(bus: string): string[] {
    return this.#areNamed || bus !== this.#heard[0] ? [topicWord(bus)] : [];
  }

  /** Several are known beforehand. */
  get #areNamed(): boolean {
    const { given, nameless } = this.busNames;
    const named = [...given].filter((name) => !this.#j1939.has(name));
    return this.#described.size > 1 || named.length + nameless > 1;
  }
}
