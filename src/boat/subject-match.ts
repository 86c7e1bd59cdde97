import type { Boat, Key, Subject } from "./boat.ts";

/** What is known of the sender of a message. */
export interface Sender {
  readonly bus: string;
  readonly address: number;
  /** NAME in 16 hex digits; null until it was heard to claim its address. */
  readonly name: string | null;
  /** From its product information; null until that was heard. */
  readonly serial: string | null;
}

/** The parts of a message that tell subjects apart. */
export interface HeardKey {
  readonly instance?: number;
  readonly fluid?: string;
  readonly place?: string;
  readonly indicator?: number;
  /** Of messages that have no instance (J1939). */
  readonly address?: number;
}

/** One key of the boat file and whose it is. */
export interface Candidate {
  readonly subject: Subject;
  readonly key: Key;
}

export type Match =
  | { readonly kind: "named"; readonly candidate: Candidate }
  /** The boat file says nothing about it: it is called by its number. */
  | { readonly kind: "unnamed" }
  /** It depends on which device the sender is, and that is not known yet. */
  | { readonly kind: "undecided" }
  /** Two keys fit equally well: nothing tells them apart. */
  | { readonly kind: "ambiguous"; readonly subjects: readonly string[] };

/**
 * Which of the boat file's keys a message is about: the one that says most among those that fit.
 * A key that may fit better, once its device is known, makes the message wait: a value under the
 * wrong engine's name is worse than none.
 */
export function matchSubject(
  candidates: readonly Candidate[],
  heard: HeardKey,
  sender: Sender,
  devices: Boat["devices"],
): Match {
  let best: Candidate[] = [];
  let bestParts = -1;
  let openParts = -1;
  for (const candidate of candidates) {
    const fit = fitOf(candidate.key, heard, sender, devices);
    const parts = partsOf(candidate.key);
    if (fit === "open") openParts = Math.max(openParts, parts);
    if (fit !== "yes" || parts < bestParts) continue;
    best = parts > bestParts ? [candidate] : [...best, candidate];
    bestParts = parts;
  }
  if (openParts >= 0 && openParts >= bestParts) return { kind: "undecided" };
  if (best.length === 0) return { kind: "unnamed" };
  if (best.length === 1) return { kind: "named", candidate: best[0] };
  return { kind: "ambiguous", subjects: best.map(({ subject }) => subject.name) };
}

function fitOf(
  key: Key,
  heard: HeardKey,
  sender: Sender,
  devices: Boat["devices"],
): "yes" | "no" | "open" {
  if (key.instance !== undefined && key.instance !== heard.instance) return "no";
  if (key.fluid !== undefined && key.fluid !== heard.fluid) return "no";
  if (key.place !== undefined && key.place !== heard.place) return "no";
  if (key.indicator !== heard.indicator) return "no";
  if (key.bus !== undefined && key.bus !== sender.bus) return "no";
  if (key.address !== undefined && key.address !== heard.address) return "no";
  return key.device === undefined ? "yes" : isDeviceNamed(key.device, sender, devices);
}

/** Whether a sender is the device of this name; "open" while too little is known of it. */
export function isDeviceNamed(
  name: string,
  sender: Sender,
  devices: Boat["devices"],
): "yes" | "no" | "open" {
  const serial = devices.find((device) => device.name === name)?.serial;
  return serial === undefined ? "no" : isDevice(serial, sender);
}

const NAME_PATTERN = /^[0-9a-f]{16}$/i;

function isDevice(serial: string, { name, serial: own }: Sender): "yes" | "no" | "open" {
  if (isSerialOf(serial, name, own)) return "yes";
  const asked = NAME_PATTERN.test(serial) ? name : own;
  return asked === null ? "open" : "no";
}

/** Whether a serial of the boat file is a device's: of its product information, or its whole NAME. */
export function isSerialOf(serial: string, name: string | null, own: string | null): boolean {
  if (serial === own) return true;
  return NAME_PATTERN.test(serial) && serial.toLowerCase() === name?.toLowerCase();
}

function partsOf(key: Key): number {
  return [key.instance, key.fluid, key.place, key.indicator, key.bus, key.address, key.device]
    .filter((part) => part !== undefined).length;
}
