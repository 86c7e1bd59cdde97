import type { HeardThing } from "./heard-things.ts";
import { plainText } from "./plain-text.ts";

/** A remark in a drafted boat file: the serial number stays when an address changes. */
export function sentBy({ sender: { address, serial } }: HeardThing): string {
  return `sent by ${serial === null ? `address ${address}` : `device ${plainText(serial)}`}`;
}
