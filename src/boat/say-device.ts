import type { Sender } from "./subject-match.ts";

/** A device as a person can find it: by serial number where it has said one, else by address. */
export function sayDevice({ serial, address, bus }: Sender): string {
  const where = `at address ${address} on ${bus}`;
  return serial === null ? `the device ${where}` : `the device ${where} (serial ${serial})`;
}
