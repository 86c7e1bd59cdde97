import { type BusNames, MOST_BUSES } from "../bus/bus-names.ts";
import { type Micros, MINUTE, SECOND } from "../ground/time.ts";
import { type AddressConflict, AddressContests, CONTEST } from "./address-contests.ts";
import type { Columns } from "./columns.ts";
import type { RememberedDevice } from "./device-memory.ts";
import { EVERYBODY, NO_ADDRESS } from "./identifier.ts";
import type { Message } from "./message.ts";
import { senderOf, SENDERS } from "./message-counts.ts";
import { MessageTallies } from "./message-tallies.ts";
import { NAME_BYTES, nameFrom, type NameParts, namePartsOf } from "./name.ts";
import {
  describesItsSender,
  descriptionIn,
  NOTHING_SAID,
  type SelfDescription,
} from "./self-description.ts";
import { TroubleCodeList } from "./trouble-code-list.ts";
import { ACTIVE_TROUBLE_CODES, EARLIER_TROUBLE_CODES } from "./trouble-codes.ts";
import { UnknownPgns } from "./unknown-pgns.ts";

export const ADDRESS_CLAIM = 60928;

/** Devices that are kept; of more, those without an address are forgotten, oldest first. */
export const MOST_DEVICES = 1024;

/** Usual time between two heartbeats, and how many may be missed. From memory. */
const HEARTBEAT_INTERVAL: Micros = MINUTE;
const MISSED_HEARTBEATS = 3;

/** A device that has claimed an address on a bus. */
export interface Device extends SelfDescription {
  readonly bus: number;
  /** 16 hex digits. */
  readonly name: string;
  readonly parts: NameParts;
  /** null when it lost its address, or could not claim one. */
  readonly address: number | null;
  /** Known from an earlier run; its claim was not heard in this one. */
  readonly isRemembered: boolean;
}

/** A sender of which no claim was heard. */
export interface Stranger {
  readonly bus: number;
  readonly address: number;
  readonly lastHeard: Micros;
}

interface Known extends Device {
  address: number | null;
  isRemembered: boolean;
  product: Device["product"];
  configuration: Device["configuration"];
  transmits: Device["transmits"];
  receives: Device["receives"];
  heartbeat: Device["heartbeat"];
  /** The address that it claimed last, whether it got it or not. */
  claimed: number | null;
  claimedAt: Micros;
  /** Up to the moment when it left its address. */
  heardBefore: Micros;
}

/** What messages of a row are to the list. */
const Role = { none: 0, claim: 1, description: 2, active: 3, earlier: 4 } as const;

/** Devices of an earlier run. */
export interface DeviceRecall {
  readonly devices: readonly RememberedDevice[];
  readonly busNames: BusNames;
}

/**
 * The devices of all buses by their NAME, from address claims and what they say of themselves, with
 * what each sender says and how often. A NAME that moves to another address keeps its identity. What
 * a device says of itself before it was heard to claim its address is not kept: the address may be
 * another's by then.
 */
export class DeviceList {
  /**
   * Goes up whenever an address gets or loses a NAME, or a device says something new of itself: what
   * was bound to a device by address must then be looked up anew.
   */
  version = 0;
  /** By sender (`senderOf`): steady time of its last message; 0 never. */
  readonly heardAt = new Float64Array(SENDERS);
  /** Who was ever heard. */
  readonly #senders = new Set<number>();
  /** How often each sender said each row. */
  readonly tallies: MessageTallies;
  /** What senders find wrong with themselves. */
  readonly troubleCodes = new TroubleCodeList();
  /** What no row describes. */
  readonly unknown = new UnknownPgns();

  readonly #columns: Columns;
  /** By row: `Role`. */
  readonly #roles: Uint8Array;
  /** By bus and NAME, in the order in which they were first heard. */
  readonly #known = new Map<string, Known>();
  /** By sender. */
  readonly #holders: (Known | null)[] = Array(SENDERS).fill(null);
  /** By sender: who left it last, and when it had spoken there last. */
  readonly #left = new Map<number, { readonly by: Known; readonly heardBefore: Micros }>();
  readonly #contests = new AddressContests();
  readonly #recall: DeviceRecall | undefined;
  /** By bus: 1 once its devices of an earlier run are recalled. */
  readonly #recalled = new Uint8Array(MOST_BUSES);

  /** @param recall devices of an earlier run; they come back once their bus is heard. */
  constructor(columns: Columns, recall?: DeviceRecall) {
    this.#columns = columns;
    this.#recall = recall;
    this.tallies = new MessageTallies(columns.rows.length);
    this.#roles = Uint8Array.from(columns.rows, ({ pgn }) => {
      if (pgn === ADDRESS_CLAIM) return Role.claim;
      if (pgn === ACTIVE_TROUBLE_CODES) return Role.active;
      if (pgn === EARLIER_TROUBLE_CODES) return Role.earlier;
      return describesItsSender(pgn) ? Role.description : Role.none;
    });
  }

  /** Takes in that a message was heard, and what it says about devices; most say nothing. */
  take(message: Message, now: Micros): void {
    const { bus, row, source } = message;
    const { heardAt } = this;
    const sender = (bus << 8) | source;
    if (heardAt[sender] === 0) this.#hearFirst(sender, bus);
    if (row < 0) {
      this.unknown.take(message, now);
    } else {
      this.tallies.take(sender, row);
      if (this.#roles[row] !== 0) this.#takeSelf(message, now);
    }
    heardAt[sender] = now;
  }

  #hearFirst(sender: number, bus: number): void {
    this.#senders.add(sender);
    this.#recallBus(bus);
  }

  /** What a device says of itself. */
  #takeSelf(message: Message, now: Micros): void {
    const role = this.#roles[message.row];
    if (role === Role.claim) this.#claim(message, now);
    else if (role === Role.description) this.#describe(message);
    else this.troubleCodes.take(this.#columns, message, role === Role.active);
  }

  /** All devices ever heard to claim an address, and those of earlier runs. */
  get devices(): Iterable<Device> {
    return this.#known.values();
  }

  deviceAt(bus: number, address: number): Device | null {
    return this.#holders[senderOf(bus, address)];
  }

  /** The NAME that holds an address, or null where none was heard to claim it. */
  nameAt(bus: number, address: number): string | null {
    return this.deviceAt(bus, address)?.name ?? null;
  }

  /** The serial number that the device at an address gives of itself, or null. */
  serialAt(bus: number, address: number): string | null {
    return this.deviceAt(bus, address)?.product?.serial ?? null;
  }

  device(bus: number, name: string): Device | null {
    return this.#known.get(keyOf(bus, name)) ?? null;
  }

  /** Steady time at which a device was last heard, at whatever address; 0 for an unknown one. */
  lastHeard({ bus, name }: Device): Micros {
    const known = this.#known.get(keyOf(bus, name));
    if (known === undefined) return 0;
    return known.address === null
      ? known.heardBefore
      : Math.max(known.claimedAt, this.heardAt[senderOf(bus, known.address)]);
  }

  /** Whether a device has been heard within three of its heartbeats: its own, else a minute each. */
  isHeard(device: Device, now: Micros): boolean {
    const said = device.heartbeat?.interval ?? null;
    const interval = said === null || said === 0 ? HEARTBEAT_INTERVAL : said * SECOND;
    const lastHeard = this.lastHeard(device);
    return lastHeard > 0 && now - lastHeard <= MISSED_HEARTBEATS * Math.max(interval, SECOND);
  }

  /** Addresses at which two devices stay. */
  conflicts(now: Micros): AddressConflict[] {
    return this.#contests.conflicts(now);
  }

  /** Addresses at which only this device spoke since it held them, and which it has left. */
  formerAddresses(device: Device): number[] {
    return [...this.#left].flatMap(([sender, { by }]) =>
      by === device && this.#isEmpty(sender) ? [sender & 0xff] : []
    );
  }

  /** Whether a device left it and nobody has spoken there since. */
  #isEmpty(sender: number): boolean {
    const left = this.#left.get(sender);
    return left !== undefined && this.#holders[sender] === null &&
      this.heardAt[sender] <= left.heardBefore;
  }

  /** Who speaks without having been heard to claim its address: we came too late. */
  strangers(): Stranger[] {
    const strangers: Stranger[] = [];
    for (const sender of this.#senders) {
      const address = sender & 0xff;
      if (address >= NO_ADDRESS || this.#holders[sender] !== null || this.#isEmpty(sender)) {
        continue;
      }
      strangers.push({ bus: sender >> 8, address, lastHeard: this.heardAt[sender] });
    }
    return strangers.sort((a, b) => a.bus - b.bus || a.address - b.address);
  }

  /** What is to be kept for the next run. */
  memory(busNames: BusNames): RememberedDevice[] {
    return [
      ...[...this.#known.values()].map((
        { bus, name, address, product, configuration, transmits, receives },
      ) => ({
        bus: busNames.nameOf(bus),
        name,
        address,
        product,
        configuration,
        transmits: transmits && [...transmits],
        receives: receives && [...receives],
      })),
      ...this.#notRecalled(busNames),
    ];
  }

  /** Devices of buses that were not heard in this run: they are not forgotten for that. */
  #notRecalled(busNames: BusNames): readonly RememberedDevice[] {
    const { devices } = this.#recall ?? { devices: [] };
    return devices.filter(({ bus }) =>
      !busNames.has(bus) || this.#recalled[busNames.numberOf(bus)] === 0
    );
  }

  #recallBus(bus: number): void {
    if (this.#recall === undefined || this.#recalled[bus] === 1) return;
    this.#recalled[bus] = 1;
    const { devices, busNames } = this.#recall;
    for (const { bus: busName, name, address, ...said } of devices) {
      if (busName !== busNames.nameOf(bus) || this.#known.size === MOST_DEVICES) continue;
      const known = Object.assign(this.#meet(bus, name), said, { isRemembered: true });
      if (address === null || this.#holders[senderOf(bus, address)] !== null) continue;
      known.address = address;
      this.#holders[senderOf(bus, address)] = known;
    }
    this.version++;
  }

  #claim(message: Message, time: Micros): void {
    const { bus, source, bytes, start, length } = message;
    if (length < NAME_BYTES || source === EVERYBODY) return;
    const name = nameFrom(bytes, start);
    const device = this.#known.get(keyOf(bus, name)) ?? this.#meet(bus, name);
    if (device.claimed !== null && device.claimed !== source) {
      this.#contests.leave(bus, device.claimed, name);
    }
    if (source !== device.address) this.#leave(device);
    device.isRemembered = false;
    device.heardBefore = time;
    device.claimedAt = time;
    device.claimed = source;
    if (source === NO_ADDRESS) return;
    this.#contests.claim(bus, source, name, this.#rivalOf(device, time), time);
    if (source === device.address) return;

    const sender = senderOf(bus, source);
    const holder = this.#holders[sender];
    if (holder !== null) {
      if (holder.name < name && time - holder.claimedAt <= CONTEST) return;
      this.#leave(holder);
    }
    this.#holders[sender] = device;
    device.address = source;
    this.version++;
  }

  /** Another device that claimed the same address just now. */
  #rivalOf(device: Known, now: Micros): string | null {
    for (const other of this.#known.values()) {
      if (other === device || other.bus !== device.bus) continue;
      if (other.claimed === device.claimed && now - other.claimedAt <= CONTEST) return other.name;
    }
    return null;
  }

  #meet(bus: number, name: string): Known {
    if (this.#known.size === MOST_DEVICES) this.#forgetOne();
    const known: Known = {
      ...NOTHING_SAID,
      bus,
      name,
      parts: namePartsOf(name),
      address: null,
      isRemembered: false,
      claimed: null,
      claimedAt: -Infinity,
      heardBefore: 0,
    };
    this.#known.set(keyOf(bus, name), known);
    return known;
  }

  #forgetOne(): void {
    const devices = [...this.#known.values()];
    const oldest = devices.find(({ address }) => address === null) ?? devices[0];
    this.#leave(oldest);
    this.#known.delete(keyOf(oldest.bus, oldest.name));
  }

  #leave(device: Known): void {
    if (device.address === null) return;
    device.heardBefore = this.lastHeard(device);
    const sender = senderOf(device.bus, device.address);
    this.#left.set(sender, { by: device, heardBefore: device.heardBefore });
    this.#holders[sender] = null;
    device.address = null;
    this.version++;
  }

  #describe(message: Message): void {
    const device = this.#holders[senderOf(message.bus, message.source)];
    if (device === null) return;
    const said = descriptionIn(this.#columns, message);
    // Another product than the one that had this address in an earlier run: its place was taken.
    const { serial = null } = said.product ?? {};
    const remembered = device.isRemembered ? device.product?.serial ?? null : null;
    if (serial !== null && remembered !== null && serial !== remembered) {
      return this.#leave(device);
    }
    const { product, configuration, transmits, receives, heartbeat } = device;
    const before = { product, configuration, transmits, receives, heartbeat };
    if (JSON.stringify({ ...before, ...said }) === JSON.stringify(before)) return;
    Object.assign(device, said);
    this.version++;
  }
}

function keyOf(bus: number, name: string): string {
  return `${bus}/${name}`;
}
