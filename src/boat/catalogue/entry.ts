import type { Key } from "../boat.ts";

/**
 * What the fields of one kind of message are called as signals: PGN and field become group, subject
 * and quantity (contract §3). Fields that are not named here make no signal.
 */
export interface CatalogueEntry {
  readonly pgn: number;
  /**
   * Holds only for messages in which these fields say these words. Of a message's entries the first
   * that holds counts.
   */
  readonly when?: Readonly<Record<string, string>>;
  /** About each group of the row's tail by itself; the row's own fields may still be keys. */
  readonly repeated?: true;
  readonly group: string;
  /** Other groups of the boat file whose subjects send this message too. */
  readonly kindredGroups?: readonly string[];
  /** Subjects go by the keys and names that the boat file gives those of this group. */
  readonly namedLike?: string;
  /**
   * Fields that tell one subject from another, in the order of the name that the subject has while
   * the boat file gives none ("fuel-0").
   */
  readonly keys: readonly KeyField[];
  /**
   * J1939 has no instance: subjects are told apart by bus and address. With "bus" the boat file's
   * address is another device's, so that only the bus says whose the message is.
   */
  readonly by?: "address" | "bus";
  /** Group of unnamed senders that are no engine by their address: any controller may say this. */
  readonly elseGroup?: string;
  /** Name of the only subject; groups without keys and without this have none. */
  readonly only?: string;
  /** Says where the boat is: the boat file can name the device that counts, and a stand-in. */
  readonly whereabouts?: true;
  /** Ends with a list of trouble codes, each of which becomes `fault/SPN-FMI`. */
  readonly troubleCodes?: true;
  readonly signals: readonly CatalogueSignal[];
}

export interface KeyField {
  readonly field: string;
  /** The part of a boat file's key that it answers to. */
  readonly part: keyof Key & ("instance" | "fluid" | "place");
  /** What goes without saying in the name: `sea/temperature` is that of instance 0. */
  readonly unsaid?: number | "always";
}

export interface CatalogueSignal {
  readonly field: string;
  /** Bits of a status word become `status/BIT`, whatever stands here. */
  readonly quantity: string;
  /** Sort of quantity in `QUANTITIES`, where it is not called like the quantity. */
  readonly sort?: string;
  /** Where it is not the entry's; the signal then has no subject. */
  readonly group?: string;
  /** Number of an indicator of a switch bank: the boat file can give it a subject of its own. */
  readonly indicator?: number;
  /** While it says nothing it makes no signal. */
  readonly optional?: true;
}

export const INSTANCE: KeyField = { field: "instance", part: "instance" };

/** A field that is called like its quantity. */
export function same(name: string, sort?: string): CatalogueSignal {
  return { field: name, quantity: name, sort };
}

/** A field with another name than its quantity. */
export function named(field: string, quantity: string, sort?: string): CatalogueSignal {
  return { field, quantity, sort };
}

/** Enumerated values. */
export function states(...names: readonly string[]): CatalogueSignal[] {
  return names.map((name) => same(name, "state"));
}

/** Signals that are there only once they have said something. */
export function optional(...signals: readonly CatalogueSignal[]): CatalogueSignal[] {
  return signals.map((signal) => ({ ...signal, optional: true }));
}
