import type { Micros } from "../ground/time.ts";
import type { Carriers } from "./carriers.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { Quality, Reason } from "./quality.ts";

/**
 * A receiver that has no fix may say 0°, 0°: a place at sea where no boat of ours lies to the
 * centimetre. Such a pair is implausible, and neither half of it is a position.
 */
export class NoFix {
  /** By layout: 1 where `follow` has something to look at. */
  readonly isPlace: Uint8Array;
  /** By layout: its slots of latitude and longitude; null for messages without. */
  readonly #slots: readonly (readonly [latitude: number, longitude: number] | null)[];

  constructor(readonly carriers: Carriers, layouts: MessageLayouts) {
    this.#slots = layouts.slots.map((slots) => {
      const [latitude, longitude] = ["latitude", "longitude"]
        .map((name) => slots.findIndex(({ quantity }) => quantity === name));
      return latitude < 0 || longitude < 0 ? null : [latitude, longitude];
    });
    this.isPlace = Uint8Array.from(this.#slots, (slots) => slots === null ? 0 : 1);
  }

  /** After a message of a carrier whose layout `isPlace` was read. */
  follow(carrier: number, now: Micros): void {
    const { firstSlot, lastRaw, layout } = this.carriers;
    const slots = this.#slots[layout[carrier]];
    if (slots === null) return;
    const first = firstSlot[carrier];
    if (slots.some((slot) => lastRaw[first + slot] !== 0)) return;
    for (const slot of slots) this.#doubt(first + slot, now);
  }

  #doubt(slot: number, now: Micros): void {
    const { lastRaw, signal, table } = this.carriers;
    // The next message is read anew, whatever it says: half of it may be 0 for good.
    lastRaw[slot] = NaN;
    if (signal[slot] < 0) return;
    table.set(signal[slot], NaN, Quality.bad, Reason.implausible, now);
  }
}
