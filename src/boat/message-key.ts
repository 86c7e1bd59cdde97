import type { Message } from "../nmea2000/message.ts";
import type { MessageLayouts } from "./message-layouts.ts";

/** What tells a message from others of its stream, packed into one number; -1 where it is cut off. */
export function messageKey(
  layouts: MessageLayouts,
  { bytes, row, start, length }: Message,
): number {
  const { firstKey, keyAt, keyShift, keyMask, keyWidth } = layouts;
  let key = 0;
  for (let part = firstKey[row]; part < firstKey[row + 1]; part++) {
    const at = keyAt[part];
    if (at >= length) return -1;
    key = (key << keyWidth[part]) | ((bytes[start + at] >> keyShift[part]) & keyMask[part]);
  }
  return key;
}

/** The same for one of its groups, some parts of which the whole message says. */
export function groupKey(
  layouts: MessageLayouts,
  { bytes, row, start, length }: Message,
  groupStart: number,
): number {
  const { firstKey, keyAt, keyShift, keyMask, keyWidth, keyInGroup } = layouts;
  let key = 0;
  for (let part = firstKey[row]; part < firstKey[row + 1]; part++) {
    const at = (keyInGroup[part] === 1 ? groupStart : start) + keyAt[part];
    if (at >= start + length) return -1;
    key = (key << keyWidth[part]) | ((bytes[at] >> keyShift[part]) & keyMask[part]);
  }
  return key;
}
