import { type Micros, SECOND } from "../../ground/time.ts";
import type { Boat } from "../boat.ts";
import { Quality, Reason } from "../quality.ts";
import type { SignalTable } from "../signal-table.ts";
import { LoadRuns } from "./load-runs.ts";

/** Codes of the words that a contact reads. */
const WORDS: ReadonlyMap<number, string> = new Map([[0, "off"], [1, "on"]]);

/** Two loads whose starts are no further apart are one: contact and current are told now and then. */
const TOGETHER: Micros = 4 * SECOND;

/** A pump of another bilge that says itself when it runs. */
interface Contact {
  readonly name: string;
  isOn: boolean;
  /** -Infinity before its first start. */
  onAt: Micros;
}

interface Pump {
  readonly signal: number;
  /** Name of the battery's current. */
  readonly current: string;
  readonly runs: LoadRuns;
  /** When what is told of a run ends; Infinity while none is. */
  ends: Micros;
}

/**
 * Bilge pumps that only their float switches: `bilge/forward/pump` as worked out from a battery's
 * current, uncertain and inferred. A run is known only when it is over, and is told then: on, for as
 * long as it lasted. A run that began with that of a pump with a contact was that pump's. No message
 * carries these signals, so that none of them ages.
 *
 * Order of calls: `follow` before rules judge; `runTimer` when `nextDue` is reached.
 */
export class InferredPumps {
  readonly #pumps: readonly Pump[];
  readonly #contacts: readonly Contact[];

  constructor(readonly table: SignalTable, boat: Boat) {
    this.#pumps = boat.subjects.flatMap(({ group, name, inferred, relations: { battery } }) => {
      if (inferred === undefined || battery === undefined) return [];
      const signal = table.intern({
        ...{ name: `${group}/${name}/pump`, group, subject: name, quantity: "pump" },
        ...{ unit: "", decimals: 0, words: WORDS, span: null, derived: true },
      });
      const runs = new LoadRuns(inferred);
      return [{ signal, current: `battery/${battery}/current`, runs, ends: Infinity }];
    });
    this.#contacts = this.#pumps.length === 0 ? [] : boat.subjects
      .filter(({ group, inferred }) => group === "bilge" && inferred === undefined)
      .map(({ name }) => ({ name: `bilge/${name}/pump`, isOn: false, onAt: -Infinity }));
  }

  get nextDue(): Micros {
    let due = Infinity;
    for (const { runs, ends } of this.#pumps) due = Math.min(due, runs.nextDue, ends);
    return due;
  }

  /** Looks at what is fresh in the table. */
  follow(now: Micros): void {
    for (const contact of this.#contacts) this.#followContact(contact, now);
    for (const pump of this.#pumps) {
      const current = this.table.find(pump.current);
      if (current < 0) continue;
      this.table.heed(current);
      const isKnown = this.table.qualities[current] === Quality.good;
      this.#tell(pump, pump.runs.take(isKnown ? this.table.values[current] : NaN, now), now);
      if (!isKnown) this.#say(pump, NaN, now);
      else if (pump.ends === Infinity) this.#say(pump, 0, now);
    }
  }

  runTimer(): void {
    const now = this.nextDue;
    for (const pump of this.#pumps) {
      if (pump.ends === now) {
        pump.ends = Infinity;
        this.#say(pump, 0, now);
      }
      if (pump.runs.nextDue === now) this.#tell(pump, pump.runs.runTimer(), now);
    }
  }

  #tell(pump: Pump, lasted: Micros | null, now: Micros): void {
    if (lasted === null || this.#isAnothers(now - lasted)) return;
    pump.ends = now + lasted;
    this.#say(pump, 1, now);
  }

  #followContact(contact: Contact, now: Micros): void {
    const { table } = this;
    const signal = table.find(contact.name);
    if (signal < 0) return;
    table.heed(signal);
    if (table.qualities[signal] !== Quality.good) return;
    const isOn = table.values[signal] === 1;
    if (isOn && !contact.isOn) contact.onAt = now;
    contact.isOn = isOn;
  }

  #isAnothers(began: Micros): boolean {
    return this.#contacts.some(({ onAt }) => Math.abs(onAt - began) <= TOGETHER);
  }

  #say({ signal }: Pump, value: number, now: Micros): void {
    const { table } = this;
    const isKnown = !Number.isNaN(value);
    const reason = isKnown ? Reason.inferred : Reason.notAvailable;
    if (Object.is(table.values[signal], value) && table.reasons[signal] === reason) return;
    table.set(signal, value, isKnown ? Quality.uncertain : Quality.bad, reason, now);
  }
}
