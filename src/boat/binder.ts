import type { BusNames } from "../bus/bus-names.ts";
import type { Micros } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Boat } from "./boat.ts";
import { BusInName } from "./bus-in-name.ts";
import type { Carriers } from "./carriers.ts";
import type { CatalogueEntry } from "./catalogue/entry.ts";
import { heardKey, holds, type KeyValue, unpack } from "./heard-key.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import type { NamedSubject } from "./naming.ts";
import { oldAgeFor, type OldAgeSettings } from "./old-age.ts";
import { StreamIndex, streamOf } from "./stream-index.ts";
import {
  type Candidate,
  type HeardKey,
  isDeviceNamed,
  matchSubject,
  type Sender,
} from "./subject-match.ts";
import { saidOf, unnamedByAddress } from "./unnamed-subject.ts";

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
  readonly why: "no-instance" | "undecided" | "ambiguous" | "too-many" | "not-counted";
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
  readonly busInName: BusInName;
  /** What each claim is about, by claim. */
  readonly claims: NamedSubject[] = [];

  readonly #carriers = new Map<string, number>();
  readonly #claimNumbers = new Map<string, number>();
  /** Keys of the boat file for whole messages and for single indicators. */
  readonly #ownKeys: readonly Candidate[];
  readonly #indicatorKeys: readonly Candidate[];
  readonly #placeKeys: readonly Candidate[];
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
    this.#placeKeys = keys.filter(({ key }) => key.place !== undefined);
    this.#indicatorKeys = keys.filter(({ key }) => key.indicator !== undefined);
    this.busInName = new BusInName(boat, busNames);
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
    const { pgn, codes } = this.columns.rows[row];
    if (codes === "nmea2000") this.busInName.meet(bus);
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

  /** The old age that messages of a carrier's kind have. */
  usualOldAge(carrier: number): Micros {
    return this.#ageOf(this.carriers.layout[carrier]);
  }

  #ageOf(layout: number): Micros {
    return oldAgeFor(this.columns.rows[this.layouts.row[layout]].period, this.oldAges);
  }

  #find(
    row: number,
    key: number,
    bus: number,
    source: number,
  ): number | Unbound["why"] {
    const keys = this.layouts.keys[row];
    if (keys === null) return "no-instance";
    const values = unpack(key, keys.parts);
    const layout = keys.layouts.find((candidate) => holds(this.layouts.entries[candidate], values));
    if (layout === undefined) return "no-instance";
    const entry = this.layouts.entries[layout];
    const heard = heardKey(entry, values, source);
    if (heard === undefined) return "no-instance";

    const sender: Sender = {
      bus: this.busNames.nameOf(bus),
      address: source,
      name: this.devices.nameAt(bus, source),
      serial: this.devices.serialAt(bus, source),
    };
    const rank = this.#rankOf(entry, sender);
    if (typeof rank === "string") return rank;
    const subject = this.#subjectOf(entry, values, heard, sender);
    if (typeof subject === "string") return subject;
    const carrier = this.#carrierOf(layout, { entry, subject, heard, sender }, bus, source);
    if (carrier === undefined) return "too-many";
    this.carriers.rank[carrier] = rank;
    return carrier;
  }

  #subjectOf(
    entry: CatalogueEntry,
    values: ReadonlyMap<string, KeyValue>,
    heard: HeardKey,
    sender: Sender,
  ): NamedSubject | "undecided" | "ambiguous" {
    const { group, only = "" } = entry;
    const isOne = entry.keys.length === 0 && entry.by === undefined;
    if (isOne) return { group, name: only, described: null };
    const match = matchSubject(this.#candidatesFor(entry), heard, sender, this.boat.devices);
    if (match.kind === "undecided") return match.kind;
    // Where the address is another device's, two engines on a bus are no mistake of the owner.
    if (match.kind === "ambiguous" && entry.by !== "bus") return match.kind;
    if (match.kind === "named") {
      const { subject, key } = match.candidate;
      const tied = key.quantity === "self" ? {} : { tied: key.quantity };
      const named = { group: entry.namedLike === undefined ? subject.group : group, ...tied };
      return { ...named, name: subject.name, described: subject };
    }
    if (entry.by !== undefined) return unnamedByAddress(entry, sender);
    const bank = this.#bankDevice(entry, heard, sender);
    if (bank === "undecided") return bank;
    const numbers = entry.keys.map((key) => saidOf(key, values)).filter((text) => text !== "");
    const network = this.busInName.of(sender.bus);
    return { group, name: [...network, ...bank, ...numbers].join("-"), described: null };
  }

  /** The boat file's keys that messages of an entry can answer to. */
  #candidatesFor({ group, kindredGroups = [], namedLike = group, keys, by }: CatalogueEntry) {
    // A temperature may be tied to something of another group.
    if (keys.some(({ part }) => part === "place")) return this.#placeKeys;
    const groups = [namedLike, ...kindredGroups];
    const own = this.#ownKeys.filter(({ subject }) => groups.includes(subject.group));
    if (by !== "bus") return own;
    return own.filter(({ key }) => key.bus !== undefined || key.device !== undefined)
      .map(({ subject, key }) => ({ subject, key: { ...key, address: undefined } }));
  }

  /** Whether the boat file lets a device say where the boat is, and in which place. */
  #rankOf(entry: CatalogueEntry, sender: Sender): number | "undecided" | "not-counted" {
    const { position, devices } = this.boat;
    if (entry.whereabouts === undefined || position === undefined) return 0;
    const names = [position.from, position.standIn].filter((name) => name !== undefined);
    const answers = names.map((name) => isDeviceNamed(name, sender, devices));
    const named = answers.indexOf("yes");
    if (named >= 0) return named + 1;
    return answers.includes("open") ? "undecided" : "not-counted";
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
        carrier = this.carriers.add(layout, this.layouts.slotCount(layout), this.#ageOf(layout));
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

  #forget(): void {
    this.index.clear();
    this.unbound = [];
  }
}
