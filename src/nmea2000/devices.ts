import type { Micros } from "../ground/time.ts";
import { MILLISECOND } from "../ground/time.ts";
import type { Columns } from "./columns.ts";
import { decodeMessage } from "./decode-message.ts";
import { EVERYBODY, NO_ADDRESS } from "./identifier.ts";
import type { Message } from "./message.ts";
import { senderOf, SENDERS } from "./message-counts.ts";
import { NAME_BYTES, nameFrom, type NameParts, namePartsOf } from "./name.ts";
import { type ProductInformation, productInformationFrom } from "./product-information.ts";

export const ADDRESS_CLAIM = 60928;
export const PRODUCT_INFORMATION = 126996;

/** Two claims within this time are a contest, which the lower NAME wins (SAE J1939-81). */
const CONTEST: Micros = 250 * MILLISECOND;

/** A device that has claimed an address on a bus. */
export interface Device {
  readonly bus: number;
  /** 16 hex digits. */
  readonly name: string;
  readonly parts: NameParts;
  /** null when it lost its address, or could not claim one. */
  readonly address: number | null;
  readonly product: ProductInformation | null;
}

interface Known extends Device {
  address: number | null;
  product: ProductInformation | null;
  claimedAt: Micros;
  /** Up to the moment when it left its address. */
  heardBefore: Micros;
}

/**
 * The devices of all buses by their NAME, from address claims and product information. A NAME that
 * moves to another address keeps its identity. What a device says of itself before it was heard to
 * claim its address is not kept: the address may be another's by then.
 */
export class DeviceList {
  /**
   * Goes up whenever an address gets or loses a NAME, or a device says who made it: what was bound
   * to a device by address must then be looked up anew.
   */
  version = 0;
  /** By sender (`senderOf`): steady time of its last message; 0 never. */
  readonly heardAt = new Float64Array(SENDERS);

  readonly #columns: Columns;
  /** By bus and NAME, in the order in which they were first heard. */
  readonly #known = new Map<string, Known>();
  /** By sender. */
  readonly #holders: (Known | null)[] = Array(SENDERS).fill(null);

  constructor(columns: Columns) {
    this.#columns = columns;
  }

  /** Takes in that a message was heard, and what it says about devices; most say nothing. */
  take(message: Message, now: Micros): void {
    if (message.pgn === ADDRESS_CLAIM) this.#claim(message, now);
    else if (message.pgn === PRODUCT_INFORMATION) this.#describe(message);
    this.heardAt[senderOf(message.bus, message.source)] = now;
  }

  /** All devices ever heard to claim an address. */
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

  #claim(message: Message, time: Micros): void {
    const { bus, source, bytes, start, length } = message;
    if (length < NAME_BYTES || source === EVERYBODY) return;
    const name = nameFrom(bytes, start);
    const device = this.#known.get(keyOf(bus, name)) ?? this.#meet(bus, name);
    if (source !== device.address) this.#leave(device);
    device.heardBefore = time;
    device.claimedAt = time;
    if (source === NO_ADDRESS || source === device.address) return;

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

  #meet(bus: number, name: string): Known {
    const parts = namePartsOf(name);
    const known = { bus, name, parts, address: null, product: null, claimedAt: 0, heardBefore: 0 };
    this.#known.set(keyOf(bus, name), known);
    return known;
  }

  #leave(device: Known): void {
    if (device.address === null) return;
    device.heardBefore = this.lastHeard(device);
    this.#holders[senderOf(device.bus, device.address)] = null;
    device.address = null;
    this.version++;
  }

  #describe(message: Message): void {
    const { bus, source, row, bytes, start, length } = message;
    const device = this.#holders[senderOf(bus, source)];
    if (device === null || row < 0) return;
    const product = productInformationFrom(
      decodeMessage(this.#columns, row, bytes, start, length),
    );
    const isNew = JSON.stringify(product) !== JSON.stringify(device.product);
    device.product = product;
    if (isNew) this.version++;
  }
}

function keyOf(bus: number, name: string): string {
  return `${bus}/${name}`;
}
