import type { Backbone } from "./backbone.ts";
import type { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import type { Random } from "./random.ts";

/** All that happenings and faults can reach. */
export interface Scene {
  readonly boat: Cruiser;
  readonly devices: readonly Device[];
  readonly backbone: Backbone;
  /** What is sent as a single frame though it is none, as `misframedName` calls it. */
  readonly misframed: Set<string>;
  readonly random: (label: string) => Random;
}

export function misframedName(device: Device, pgn: number): string {
  return `${device.facts.name} ${pgn}`;
}

/** @throws {RangeError} for a device that the boat does not have */
export function deviceNamed(name: string, { devices }: Scene): Device {
  const found = devices.find((device) => device.facts.name === name);
  if (found === undefined) throw new RangeError(`no device "${name}" aboard`);
  return found;
}
