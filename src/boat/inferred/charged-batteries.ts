import type { Boat } from "../boat.ts";
import { Quality } from "../quality.ts";
import type { SignalTable } from "../signal-table.ts";

/** What a charger reads while it gives nothing (PGN 127507, from memory). */
const IDLE_WORDS: ReadonlySet<string> = new Set(["not-charging", "fault", "disabled", "no-float"]);
const TURNING_WORDS: ReadonlySet<string> = new Set(["idling", "running"]);

/** Something that charges a battery, and how its signal tells that it is at work. */
interface Charging {
  readonly signal: string;
  readonly isAtWork: (word: string) => boolean;
}

/** Which batteries are being charged, as far as the boat file names what charges them. */
export class ChargedBatteries {
  readonly #charging = new Map<string, Charging[]>();

  constructor(readonly table: SignalTable, boat: Boat) {
    for (const { group, name, relations: { battery } } of boat.subjects) {
      if (battery === undefined) continue;
      if (group === "charger") {
        const signal = `charger/${name}/operating-state`;
        this.#add(battery, { signal, isAtWork: (word) => !IDLE_WORDS.has(word) });
      } else if (group === "engine" || group === "generator") {
        const signal = `${group}/${name}/condition`;
        this.#add(battery, { signal, isAtWork: (word) => TURNING_WORDS.has(word) });
      }
    }
  }

  /** Whether anything is known to charge a battery. */
  has(battery: string): boolean {
    const { table } = this;
    return (this.#charging.get(battery) ?? []).some(({ signal, isAtWork }) => {
      const number = table.find(signal);
      if (number < 0 || table.qualities[number] !== Quality.good) return false;
      return isAtWork(table.word(number) ?? "");
    });
  }

  #add(battery: string, charging: Charging): void {
    this.#charging.set(battery, [...this.#charging.get(battery) ?? [], charging]);
  }
}
