import { BOAT_CONDITIONS, type BoatCondition } from "../../boat/boat-state.ts";
import { Quality, QUALITY_WORDS, REASON_WORDS } from "../../boat/quality.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { readSignal } from "../../outputs/mqtt/shore/read-messages.ts";
import type { UnitCode } from "../../units/codes.ts";

/** Groups that the broker uses for other things than signals (contract §3). */
const NO_SIGNALS = ["link", "alarm", "event", "history", "device", "command", "command-answer"];
/** More signals than any boat has; beyond it a broker is making them up. */
const MOST = 5_000;

/** A boat's signals as they lie on the broker, in a table like the one aboard. Times are wall times. */
export class AshoreTable {
  readonly table = new SignalTable();
  /** By signal: the words that were read, numbered as they came. */
  readonly #words = new Map<number, Map<number, string>>();
  lastHeard: Micros = 0;

  /** @param topic below the boat's base; what is no signal is passed over */
  take(topic: string, text: string): void {
    const parts = topic.split("/");
    if (parts.length < 2 || NO_SIGNALS.includes(parts[0])) return;
    const read = readSignal(text);
    if (read === undefined) return;
    const signal = this.#signalOf(topic, parts, read.unit, text);
    if (signal < 0) return;
    const { value, quality, reason, time } = read;
    const number = typeof value === "string" ? this.#codeOf(signal, value) : value ?? NaN;
    const known = QUALITY_WORDS.indexOf(quality);
    this.table.set(
      signal,
      number,
      known < 0 ? Quality.bad : known,
      Math.max(0, REASON_WORDS.indexOf(reason)),
      time,
    );
    if (quality !== "bad") this.table.carrierHeard[this.table.carriers[signal]] = time;
    this.lastHeard = Math.max(this.lastHeard, time);
    this.table.clearFresh();
    this.table.clearTouched();
  }

  /** Whether she was made ready for frost, as far as the boat has said. */
  get isWinterised(): boolean {
    const signal = this.table.find("boat/winterised");
    return signal >= 0 && this.table.values[signal] === 1;
  }

  /** Who is aboard, as the boat has said; undefined where she has not. */
  get condition(): BoatCondition | undefined {
    const signal = this.table.find("boat/condition");
    const word = signal < 0 ? undefined : this.table.word(signal);
    return BOAT_CONDITIONS.find((one) => one === word);
  }

  /** The unit of a signal that the boat has said; undefined where it has not. */
  unitOf(name: string): UnitCode | undefined {
    const signal = this.table.find(name);
    return signal < 0 ? undefined : this.table.facts[signal].unit;
  }

  #signalOf(name: string, parts: readonly string[], unit: UnitCode, text: string): number {
    const known = this.table.find(name);
    if (known >= 0) return known;
    if (this.table.count >= MOST) return -1;
    const hasSubject = parts.length > 2;
    const words = unit === "" ? new Map<number, string>() : null;
    const signal = this.table.intern({
      name,
      group: parts[0],
      subject: hasSubject ? parts[1] : "",
      quantity: parts.slice(hasSubject ? 2 : 1).join("/"),
      unit,
      decimals: decimalsIn(text),
      words,
      span: null,
      derived: false,
    });
    if (words !== null) this.#words.set(signal, words);
    this.table.carriers[signal] = this.table.addCarrier();
    return signal;
  }

  #codeOf(signal: number, word: string): number {
    const words = this.#words.get(signal);
    if (words === undefined) return NaN;
    for (const [code, known] of words) if (known === word) return code;
    words.set(words.size, word);
    return words.size - 1;
  }
}

/** The broker's values are rounded by field; what the first one shows is a fair guess for the page. */
function decimalsIn(text: string): number {
  return /"value":-?\d+\.(\d+)/.exec(text)?.[1].length ?? 2;
}
