import { BOAT_CONDITIONS } from "./boat-state.ts";
import type { Field, PgnRow } from "../nmea2000/row.ts";
import type { UnitCode } from "../units/codes.ts";
import { CATALOGUE } from "./catalogue.ts";
import { COMPUTER_QUANTITIES } from "./computer-state.ts";
import { TIED_TEMPERATURES } from "./catalogue/environment.ts";
import { WORKED_OUT } from "./derived-signals.ts";
import { CONDITION_WORDS } from "./engine-condition.ts";
import { STARTS_PER_HOUR } from "./inferred/pump-starts.ts";
import { hoursOfName } from "./hours-of-day.ts";
import { QUANTITIES } from "./quantities.ts";
import { either, ENDLESS, type Reach, reachOf } from "./reach.ts";

/**
 * Indicators that the boat file can give a subject of its own, as its keys call them, and what is
 * worked out of one.
 */
const CONTACTS: Readonly<Record<string, readonly string[]>> = {
  bilge: ["pump", "float", "pump-draws"],
  detector: ["alarm", "fault-contact"],
};

/** The message that brings them. */
const INDICATORS = 127501;

const TROUBLE_CODE = /^fault\/\d+-\d+$/;

/**
 * The quantities that can ever be heard, by group, with their units: what a rule can be checked
 * against before anything was heard.
 */
export class KnownQuantities {
  readonly #units = new Map<string, Map<string, UnitCode>>();
  readonly #words = new Map<string, readonly string[]>();
  readonly #reaches = new Map<string, Reach>();

  constructor(rows: readonly PgnRow[]) {
    const fields = new Map(rows.map((row) => [row.pgn, allFields(row)]));
    const codes = new Map(rows.map((row) => [row.pgn, row.codes]));
    for (const entry of CATALOGUE) {
      for (const signal of entry.signals) {
        // A switch is called by its number or by the owner's name: there is no end of names.
        if (signal.indicator !== undefined) continue;
        const field = fields.get(entry.pgn)?.find(({ name }) => name === signal.field);
        const sort = QUANTITIES[signal.sort ?? signal.quantity];
        for (const group of [signal.group ?? entry.group, ...entry.kindredGroups ?? []]) {
          if (field?.kind === "bits") {
            for (const bit of field.bits) if (bit !== null) this.#add(group, `status/${bit}`, "1");
          } else if (sort !== undefined) {
            const reach = field && reachOf(field, codes.get(entry.pgn) ?? "nmea2000", sort.unit);
            this.#add(group, signal.quantity, sort.unit, reach);
            if (field?.kind === "words") {
              this.#words.set(`${group}/${signal.quantity}`, Object.values(field.words));
            }
          }
        }
      }
    }
    for (const group of ["engine", "generator"]) {
      for (const { quantity } of Object.values(TIED_TEMPERATURES)) {
        this.#add(group, quantity, "Cel");
      }
      this.#add(group, "condition", "");
      this.#words.set(`${group}/condition`, [...CONDITION_WORDS.values()]);
    }
    for (const { group, quantity, unit } of WORKED_OUT) this.#add(group, quantity, unit);
    this.#words.set("boat/condition", BOAT_CONDITIONS);
    for (const [quantity, { unit, words }] of Object.entries(COMPUTER_QUANTITIES)) {
      this.#add("computer", quantity, unit);
      if (words !== null) this.#words.set(`computer/${quantity}`, [...words.values()]);
    }
    this.#add("bilge", STARTS_PER_HOUR, "1/h");
    const indicator = fields.get(INDICATORS)?.find(({ name }) => name === "indicator-1");
    for (const [group, names] of Object.entries(CONTACTS)) {
      for (const name of names) {
        this.#add(group, name, "");
        if (indicator?.kind === "words") {
          this.#words.set(`${group}/${name}`, Object.values(indicator.words));
        }
      }
    }
  }

  /** Undefined: not known here, and nothing is held against it. */
  unitOf(group: string, quantity: string): UnitCode | undefined {
    const isBit = TROUBLE_CODE.test(quantity) || hoursOfName(`${group}/${quantity}`) !== null;
    return this.#units.get(group)?.get(quantity) ?? (isBit ? "1" : undefined);
  }

  /** What can be heard of a quantity, in its unit; endless where it is worked out, or not known. */
  reachOf(group: string, quantity: string): Reach {
    return this.#reaches.get(`${group}/${quantity}`) ?? ENDLESS;
  }

  /** The words that a quantity can read; undefined for numbers, and where not known. */
  wordsOf(group: string, quantity: string): readonly string[] | undefined {
    return this.#words.get(`${group}/${quantity}`);
  }

  /** The quantities of a group; empty where the group is not known. */
  quantitiesOf(group: string): readonly string[] {
    return [...this.#units.get(group)?.keys() ?? []];
  }

  #add(group: string, quantity: string, unit: UnitCode, reach = ENDLESS): void {
    const key = `${group}/${quantity}`;
    this.#reaches.set(key, either(reach, this.#reaches.get(key) ?? reach));
    const units = this.#units.get(group) ?? new Map<string, UnitCode>();
    units.set(quantity, unit);
    this.#units.set(group, units);
  }
}

function allFields({ fields, tail }: PgnRow): readonly Field[] {
  return tail?.kind === "groups" ? [...fields, ...tail.fields] : fields;
}
