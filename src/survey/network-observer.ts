import { Quality } from "../boat/quality.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import { type Micros, MINUTE } from "../ground/time.ts";

/** Figures of the seconds in which a quantity of a network was said. */
export interface SecondFigures {
  seconds: number;
  sum: number;
  lowest: number;
  highest: number;
  last: number;
  /** The most of any minute; minutes follow each other from the first second on. */
  mostInMinute: number;
}

interface Figures extends SecondFigures {
  minuteEnds: Micros;
  inMinute: number;
}

/** Adds up what `network/…` signals say of each second. */
export class NetworkObserver {
  readonly #figures = new Map<string, Figures>();
  readonly #addedAt = new Map<string, Micros>();

  /** After each timer: seconds of the networks end with one. */
  look(table: SignalTable, now: Micros): void {
    for (const network of table.subjectsOf("network")) {
      for (const quantity of QUANTITIES) this.#add(table, `network/${network}/${quantity}`, now);
    }
  }

  /** Undefined where it was never said, or could not be judged. */
  of(network: string, quantity: Quantity): SecondFigures | undefined {
    return this.#figures.get(`network/${network}/${quantity}`);
  }

  #add(table: SignalTable, name: string, now: Micros): void {
    const signal = table.find(name);
    if (signal < 0 || table.heardAt(signal) !== now || this.#addedAt.get(name) === now) return;
    this.#addedAt.set(name, now);
    if (table.qualities[signal] === Quality.bad) return;
    const value = table.values[signal];
    const figures = this.#figures.get(name) ??
      { ...NOTHING_YET, minuteEnds: now + MINUTE };
    this.#figures.set(name, figures);
    figures.seconds++;
    figures.sum += value;
    figures.lowest = Math.min(figures.lowest, value);
    figures.highest = Math.max(figures.highest, value);
    figures.last = value;
    if (now >= figures.minuteEnds) {
      Object.assign(figures, { minuteEnds: now + MINUTE, inMinute: 0 });
    }
    figures.inMinute += value;
    figures.mostInMinute = Math.max(figures.mostInMinute, figures.inMinute);
  }
}

const NOTHING_YET = {
  seconds: 0,
  sum: 0,
  lowest: Infinity,
  highest: -Infinity,
  last: NaN,
  mostInMinute: 0,
  inMinute: 0,
} as const;

const QUANTITIES = ["load", "error-frames", "lost-messages", "gaps", "voltage"] as const;
export type Quantity = (typeof QUANTITIES)[number];
