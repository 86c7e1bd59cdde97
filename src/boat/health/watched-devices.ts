import type { Micros } from "../../ground/time.ts";
import { MINUTE } from "../../ground/time.ts";
import type { NamedDevice } from "../boat.ts";
import { isSerialOf } from "../subject-match.ts";

/** What is known of a device on a bus. */
export interface HeardDevice {
  /** NAME in 16 hex digits. */
  readonly name: string;
  readonly product: { readonly serial: string | null } | null;
}

export interface DeviceHearing<D extends HeardDevice = HeardDevice> {
  readonly devices: Iterable<D>;
  /** Whether a device is within its own time between two heartbeats, some of which may be missed. */
  isHeard(device: D, now: Micros): boolean;
  /** Who speaks without having been heard to claim its address. */
  strangers(): readonly { readonly lastHeard: Micros }[];
}

/** A device that was never heard is not missed before this much time has passed. */
const FIRST_WAIT: Micros = 3 * MINUTE;

/** Devices that the boat file wants to hear at all times: `watch: always`. */
export class WatchedDevices<D extends HeardDevice> {
  readonly #watched: readonly NamedDevice[];
  #began: Micros | undefined;
  /** Some of them was heard when it was last asked. */
  someHeard = false;

  constructor(devices: readonly NamedDevice[], readonly hearing: DeviceHearing<D>) {
    this.#watched = devices.filter(({ watchAlways }) => watchAlways);
  }

  /** Name and whether it is not heard, 0 or 1; NaN where that cannot be said. */
  look(now: Micros): (readonly [name: string, notHeard: number])[] {
    this.#began ??= now;
    this.someHeard = false;
    return this.#watched.map(({ name, serial }) => {
      const device = serial === undefined ? undefined : this.#find(serial);
      if (device === undefined) return [name, this.#mayBeHere(now) ? NaN : 1];
      const isHeard = this.hearing.isHeard(device, now);
      if (isHeard) this.someHeard = true;
      return [name, isHeard ? 0 : 1];
    });
  }

  #find(serial: string): D | undefined {
    for (const device of this.hearing.devices) {
      if (isSerialOf(serial, device.name, device.product?.serial ?? null)) return device;
    }
    return undefined;
  }

  /** A device that was never heard: we have just begun, or somebody speaks who has no name yet. */
  #mayBeHere(now: Micros): boolean {
    if (now - (this.#began ?? now) < FIRST_WAIT) return true;
    return this.hearing.strangers().some(({ lastHeard }) => now - lastHeard < FIRST_WAIT);
  }
}
