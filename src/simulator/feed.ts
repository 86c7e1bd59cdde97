import type { Device } from "./device.ts";
import type { Random } from "./random.ts";

/** V below which a box on the bus gives up: NMEA 2000 feeds are 9 to 16 V; from memory. */
const BROWN_OUT = 9;
/** Seconds that boxes take to come back, each its own, and that their senders then need. */
const BOOTING: readonly [number, number] = [0.4, 2.2];
export const WARMING_UP = 4;

/**
 * What feeds the boxes on the bus. When it sags they all start anew, each in its own time: claims
 * then arrive in another order, and for a while there is nothing to say.
 */
export class Feed {
  constructor(
    readonly devices: readonly Device[],
    readonly volts: () => number,
    readonly random: Random,
  ) {}

  step(seconds: number): void {
    const volts = this.volts();
    for (const device of this.devices) {
      if (volts < (device.facts.brownOut ?? BROWN_OUT)) {
        if (device.booting === 0) device.booting = this.random.between(...BOOTING);
      } else if (device.booting > 0) {
        device.booting = Math.max(0, device.booting - seconds);
        if (device.booting === 0) device.warmingUp = WARMING_UP;
      } else if (device.warmingUp > 0) {
        device.warmingUp = Math.max(0, device.warmingUp - seconds);
      }
    }
  }
}
