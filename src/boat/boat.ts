import type { Micros } from "../ground/time.ts";
import type { Problem } from "../ground/problem.ts";
import type { OwnersUnits } from "../units/units.ts";

/**
 * The boat as its owner described it, after the boat file was read: names, keys and facts in our
 * own units. What is not named here is called by the number that its device sends.
 */
export interface Boat {
  /** Topic-safe; "boat" without a boat file. */
  readonly name: string;
  /** How the owner reads: dimension → name of the unit ("psi"). */
  readonly units: OwnersUnits;
  /** IANA name; "UTC" when not given. */
  readonly timeZone: string;
  readonly subjects: readonly Subject[];
  readonly devices: readonly NamedDevice[];
  /** Keyed by network name: its bus ("can0") and what it speaks. */
  readonly networks: readonly Network[];
  /** Whose position counts; absent: whoever sends one. */
  readonly position?: PositionDevices;
  /** Where the boat lies when she is left; absent: nobody has said. */
  readonly mooring?: Mooring;
  /** Parts of the file that later versions use, and other notices. */
  readonly notices: readonly Problem[];
}

/** A circle: degrees, south and west negative, and metres. */
export interface Mooring {
  readonly latitude: number;
  readonly longitude: number;
  readonly radius: number;
}

export interface Network {
  readonly name: string;
  readonly bus: string;
  readonly speaks: "nmea2000" | "j1939";
  readonly powered: "always" | "with-helm";
  /** Bits a second. */
  readonly bitRate: number;
}

/** Names in `Boat.devices`. */
export interface PositionDevices {
  readonly from: string;
  /** Counts while `from` says nothing. */
  readonly standIn?: string;
}

export interface NamedDevice {
  readonly name: string;
  /** The serial that its product information gives, or its NAME in 16 hexadecimal digits. */
  readonly serial?: string;
  readonly watchAlways: boolean;
}

/** One named thing of the boat. */
export interface Subject {
  /** "engine", "battery", "charger", "tank", "bilge", … (contract §3). */
  readonly group: string;
  /** "port" */
  readonly name: string;
  readonly keys: readonly Key[];
  /** Words that rules may ask for: `fuel: diesel`, `cooling: closed`, `chemistry: agm`. */
  readonly words: Readonly<Record<string, string>>;
  /** Numbers in the signal units: `rated-speed` (1/min), `nominal` (V), `capacity` (A.h or L). */
  readonly numbers: Readonly<Record<string, number>>;
  /** Relations to other subjects, by their group: `battery` → "house" for what charges it. */
  readonly relations: Readonly<Record<string, string>>;
  /** The battery that turns an engine's starter, where it is not the one that the engine charges. */
  readonly startsFrom?: string;
  /** The step of its `battery`'s current, in A, by which a pump that is switched on is seen. */
  readonly drawnStep?: InferredBy["step"];
  /** How a pump that nothing reports is seen on the current of its `battery`. */
  readonly inferred?: InferredBy;
}

/** Steps of current (A) and lengths of runs (microseconds): `from` lies inside, `to` does not. */
export interface InferredBy {
  readonly step: { readonly from: number; readonly to: number };
  readonly lasting: { readonly from: Micros; readonly to: Micros };
}

/** What a message must say to be about a subject. All given parts must fit. */
export interface Key {
  /**
   * What the key ties: "self" for the subject's own messages; for the indicators of a switch bank
   * the quantity that it becomes ("pump", "float", "alarm", "fault-contact", "state").
   */
  readonly quantity: string;
  readonly instance?: number;
  /** Tanks: the fluid's word ("fuel"). */
  readonly fluid?: string;
  /** Temperatures: the place's word ("inside"). */
  readonly place?: string;
  /** Switch banks: 1 to 28. */
  readonly indicator?: number;
  readonly inverted?: boolean;
  /** J1939: the sender's address. */
  readonly address?: number;
  /** Name of a network's bus ("can1"). */
  readonly bus?: string;
  /** Name in `Boat.devices`. */
  readonly device?: string;
}

/** A boat about which nothing was said. */
export const UNKNOWN_BOAT: Boat = {
  name: "boat",
  units: {},
  timeZone: "UTC",
  subjects: [],
  devices: [],
  networks: [],
  notices: [],
};
