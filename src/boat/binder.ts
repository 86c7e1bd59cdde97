import type { BusNames } from "../bus/bus-names.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Boat } from "./boat.ts";
import type { Carriers } from "./carriers.ts";
import type { CatalogueEntry } from "./catalogue.ts";
import type { KeyPart, MessageLayouts } from "./message-layouts.ts";
import { type NamedSubject, topicWord } from "./naming.ts";
import { oldAgeFor, type OldAgeSettings } from "./old-age.ts";
import { StreamIndex, streamOf } from "./stream-index.ts";
import { type Candidate, type HeardKey, matchSubject, type Sender } from "./subject-match.ts";

/** What the binder asks about senders; `version` goes up whenever an answer may have changed. */
export interface KnownDevices {
  readonly version: number;
  /** NAME in 16 hex digits of the device that holds an address now, or null. */
  nameAt(bus: number, address: number): string | null;
  /** Serial number of its product information, or null. */
  serialAt(bus: number, address: number): string | null;
}

/** In the index: messages that make no signals. */
export const NOT_BOUND = -1;

/** Why messages of one stream and instance make no signals. */
export interface Unbound {
  readonly bus: number;
  readonly source: number;
  readonly pgn: number;
  readonly why: "no-instance" | "undecided" | "ambiguous" | "too-many";
}

/** A carrier in words. */
export interface Bound {
  readonly entry: CatalogueEntry;
  readonly subject: NamedSubject;
  readonly heard: HeardKey;
  readonly sender: Sender;
}

/**
 * Says what a message is about: from bus, PGN, source and instance key to a carrier. Asked only for
 * what `index` does not hold yet; `index` is emptied whenever an answer may have become another.
 */
export class Binder {
  readonly index = new StreamIndex();
  /** By carrier; derivations have none. */
  readonly bound: (Bound | undefined)[] = [];
  /** Since the index was last emptied. */
  unbound: Unbound[] = [];
  /** Messages that were passed over because the index is full. */
  overflow = 0;
  /** What each claim is about, by claim. */
  readonly claims: NamedSubject[] = [];

  readonly #carriers = new Map<string, number>();
  readonly #claimNumbers = new Map<string, number>();
  /** Keys of the boat file for whole messages and for single indicators. */
  readonly #ownKeys: readonly Candidate[];
  readonly #indicatorKeys: readonly Candidate[];
  readonly #severalDescribed: boolean;
  /** A bit for each bus that speaks NMEA 2000. */
  #busesMet = 0;
  #version: number;

  constructor(
    readonly boat: Boat,
    readonly busNames: BusNames,
    readonly devices: KnownDevices,
    readonly columns: Columns,
    readonly layouts: MessageLayouts,
    readonly carriers: Carriers,
    readonly oldAges: OldAgeSettings,
  ) {
    const keys = boat.subjects.flatMap((subject) =>
      subject.keys.map((key): Candidate => ({ subject, key }))
    );
    this.#ownKeys = keys.filter(({ key }) => key.quantity === "self");
    this.#indicatorKeys = keys.filter(({ key }) => key.indicator !== undefined);
    this.#severalDescribed = boat.networks.filter((it) => it.speaks === "nmea2000").length > 1;
    this.#version = devices.version;
  }

  /** Empties the index when what is known of the devices has changed. */
  followDevices(): void {
    if (this.devices.version === this.#version) return;
    this.#version = this.devices.version;
    this.#forget();
  }

  /** The carrier of a message that the index does not know, or `NOT_BOUND`; the index keeps it. */
  bind(row: number, key: number, bus: number, source: number): number {
    if (this.index.full) {
      this.overflow++;
      return NOT_BOUND;
    }
    this.#meet(bus);
    const { pgn } = this.columns.rows[row];
    const found = this.#find(row, key, bus, source);
    const carrier = typeof found === "number" ? found : NOT_BOUND;
    if (typeof found !== "number") this.unbound.push({ bus, source, pgn, why: found });
    this.index.put(streamOf(bus, pgn, source), key, carrier);
    return carrier;
  }

  /** The boat file's subject and quantity for an indicator of a switch bank, if it has one. */
  indicatorOf(carrier: number, indicator: number): Candidate | undefined {
    const bound = this.bound[carrier];
    if (bound === undefined) return undefined;
    const heard = { ...bound.heard, indicator };
    const match = matchSubject(this.#indicatorKeys, heard, bound.sender, this.boat.devices);
    return match.kind === "named" ? match.candidate : undefined;
  }

  #find(row: number, key: number, bus: number, source: number): number | Unbound["why"] {
    const keys = this.layouts.keys[row];
    if (keys === null) return "no-instance";
    const values = unpack(key, keys.parts);
    const layout = keys.layouts.find((candidate) => holds(this.layouts.entries[candidate], values));
    if (layout === undefined) return "no-instance";
    const entry = this.layouts.entries[layout];
    const heard = heardKey(entry, values);
    if (heard === undefined) return "no-instance";

    const sender: Sender = {
      bus: this.busNames.nameOf(bus),
      address: source,
      name: this.devices.nameAt(bus, source),
      serial: this.devices.serialAt(bus, source),
    };
    const subject = this.#subjectOf(entry, values, heard, sender);
    if (typeof subject === "string") return subject;
    return this.#carrierOf(layout, { entry, subject, heard, sender }, bus, source) ?? "too-many";
  }

  #subjectOf(
    entry: CatalogueEntry,
    values: ReadonlyMap<string, KeyValue>,
    heard: HeardKey,
    sender: Sender,
  ): NamedSubject | "undecided" | "ambiguous" {
    const { group } = entry;
    if (entry.keys.length === 0) return { group, name: entry.only ?? "", described: null };
    const groups = [group, ...entry.kindredGroups ?? []];
    const candidates = this.#ownKeys.filter(({ subject }) => groups.includes(subject.group));
    const match = matchSubject(candidates, heard, sender, this.boat.devices);
    if (match.kind === "undecided" || match.kind === "ambiguous") return match.kind;
    if (match.kind === "named") {
      const { subject } = match.candidate;
      return { group: subject.group, name: subject.name, described: subject };
    }
    const bank = this.#bankDevice(entry, heard, sender);
    if (bank === "undecided") return bank;
    const numbers = entry.keys.map(({ field }) => values.get(field)?.text ?? "");
    const network = this.#severalBuses ? [topicWord(sender.bus)] : [];
    return { group, name: [...network, ...bank, ...numbers].join("-"), described: null };
  }

  /**
   * A bank of which the boat file knows an indicator by device: that device's other indicators carry
   * its name, so that two banks with one number are not taken for one.
   */
  #bankDevice(entry: CatalogueEntry, heard: HeardKey, sender: Sender): string[] | "undecided" {
    if (!entry.signals.some(({ indicator }) => indicator !== undefined)) return [];
    const byDevice = this.#indicatorKeys
      .filter(({ key }) => key.instance === heard.instance && key.device !== undefined)
      .map(({ subject, key }) => ({ subject, key: { ...key, indicator: undefined } }));
    for (const candidate of byDevice) {
      const match = matchSubject([candidate], heard, sender, this.boat.devices);
      if (match.kind === "undecided") return match.kind;
      if (match.kind === "named") return [candidate.key.device ?? ""];
    }
    return [];
  }

  /** Undefined when there are too many. */
  #carrierOf(layout: number, bound: Bound, bus: number, source: number): number | undefined {
    const { subject, sender } = bound;
    const claimText = `${layout} ${subject.group}/${subject.name}`;
    const byAddress = `${bus}:${source} ${claimText}`;
    const identity = sender.name === null ? byAddress : `${sender.name} ${claimText}`;
    let carrier = this.#carriers.get(identity);
    if (carrier === undefined) {
      // Heard before it claimed its address: the same sender, now known by name.
      carrier = this.#carriers.get(byAddress);
      if (carrier === undefined) {
        if (this.carriers.full) return undefined;
        const period = this.columns.rows[this.layouts.row[layout]].period;
        const age = oldAgeFor(period, this.oldAges);
        carrier = this.carriers.add(layout, this.layouts.slots[layout].length, age);
        this.carriers.claim[carrier] = this.#claimOf(claimText, subject);
      } else {
        this.#carriers.delete(byAddress);
      }
      this.#carriers.set(identity, carrier);
    }
    this.bound[carrier] = bound;
    this.carriers.bus[carrier] = bus;
    this.carriers.source[carrier] = source;
    return carrier;
  }

  #claimOf(text: string, subject: NamedSubject): number {
    let claim = this.#claimNumbers.get(text);
    if (claim === undefined) {
      claim = this.claims.length;
      this.claims.push(subject);
      this.#claimNumbers.set(text, claim);
    }
    return claim;
  }

  get #severalBuses(): boolean {
    return this.#severalDescribed || (this.#busesMet & (this.#busesMet - 1)) !== 0;
  }

  /**
   * With several NMEA 2000 buses what is called by number carries its bus's name: from the first
   * message on where the boat file describes them, else once a second one is heard.
   */
  #meet(bus: number): void {
    const bit = 1 << bus;
    if ((this.#busesMet & bit) !== 0) return;
    const name = this.busNames.nameOf(bus);
    if (this.boat.networks.some((it) => it.bus === name && it.speaks === "j1939")) return;
    const before = this.#severalBuses;
    this.#busesMet |= bit;
    if (this.#severalBuses !== before) this.#forget();
  }

  #forget(): void {
    this.index.clear();
    this.unbound = [];
  }
}

interface KeyValue {
  readonly number: number;
  /** Undefined for a code that has no word, and for "not available". */
  readonly text: string | undefined;
}

function unpack(key: number, parts: readonly KeyPart[]): Map<string, KeyValue> {
  const values = new Map<string, KeyValue>();
  let rest = key;
  for (const part of parts.toReversed()) {
    const number = rest & part.mask;
    rest >>>= part.width;
    const plain = number === part.mask ? undefined : String(number);
    values.set(part.name, { number, text: part.words === null ? plain : part.words.get(number) });
  }
  return values;
}

function holds(entry: CatalogueEntry, values: ReadonlyMap<string, KeyValue>): boolean {
  return entry.when === undefined || values.get(entry.when.field)?.text === entry.when.word;
}

/** Undefined where a key is not available or has no word. */
function heardKey(
  entry: CatalogueEntry,
  values: ReadonlyMap<string, KeyValue>,
): HeardKey | undefined {
  let heard: HeardKey = {};
  for (const { field, part } of entry.keys) {
    const value = values.get(field);
    if (value?.text === undefined) return undefined;
    heard = { ...heard, [part]: part === "instance" ? value.number : value.text };
  }
  return heard;
}
