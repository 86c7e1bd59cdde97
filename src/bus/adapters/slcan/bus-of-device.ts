import { basename } from "node:path";

/** A network interface's name has no more, and a bus is written like one. */
const LONGEST_NAME = 15;

/** What the bus of a serial device is called where the person has not named it. */
export function busOfDevice(device: string): string {
  return basename(device).slice(0, LONGEST_NAME);
}
