import { MOST_BUSES } from "../../bus/bus-names.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { BusTraffic } from "./bus-traffic.ts";

/** How a bus did in the last whole second. */
export interface BusSecond {
  /** Percent of what the bit rate allows. */
  readonly load: number;
  readonly frames: number;
  /** NaN: not judged, within the grace after power-up. */
  readonly errorFrames: number;
  readonly lostMessages: number;
  /** Since listening began. */
  readonly gaps: number;
}

/** After power-up devices claim addresses, and an adapter meets half a message. */
export const POWER_UP_GRACE: Micros = 30 * SECOND;

/** A bus without a frame for this long is asleep, and powered up when the next one comes. */
export const ASLEEP_AFTER: Micros = 10 * SECOND;

const NEVER = -Infinity;

/**
 * Turns what was counted on each bus into figures for each second. A bus that falls asleep gets its
 * zeros and is then left alone until it wakes.
 */
export class BusHealth {
  /** By bus: when it was powered up, as far as was heard. */
  readonly #poweredUp = new Float64Array(MOST_BUSES).fill(NEVER);
  readonly #awake = new Uint8Array(MOST_BUSES);
  readonly #lostBefore = new Float64Array(MOST_BUSES);
  #awakeCount = 0;

  /** @param lostBySender messages lost so far, 256 senders for each bus */
  constructor(readonly traffic: BusTraffic, readonly lostBySender: Uint32Array) {}

  /** Some bus is awake. */
  get isAwake(): boolean {
    return this.#awakeCount > 0;
  }

  /** A frame came after a gap. */
  wake(bus: number, now: Micros): void {
    if (this.#awake[bus] === 1) return;
    this.#awake[bus] = 1;
    this.#awakeCount++;
    this.#poweredUp[bus] = now;
    this.#lostBefore[bus] = this.#lost(bus);
    this.traffic.begin(bus);
  }

  /** Buses of which there is something to say now. */
  *awake(): Iterable<number> {
    for (let bus = 0; bus < MOST_BUSES; bus++) if (this.#awake[bus] === 1) yield bus;
  }

  /** Closes the second that ends now; undefined where the bus was not awake for all of it. */
  second(bus: number, bitRate: number, now: Micros): BusSecond | undefined {
    const { traffic } = this;
    const lost = this.#lost(bus);
    const lostMessages = lost - this.#lostBefore[bus];
    this.#lostBefore[bus] = lost;
    const frames = traffic.frames[bus];
    const errorFrames = traffic.errorFrames[bus];
    const load = traffic.bits(bus) * 100 / bitRate;
    traffic.begin(bus);
    if (now - traffic.lastFrame[bus] >= ASLEEP_AFTER) {
      this.#awake[bus] = 0;
      this.#awakeCount--;
    }
    const since = now - this.#poweredUp[bus];
    if (since < SECOND) return undefined;
    const isJudged = since >= POWER_UP_GRACE + SECOND;
    return {
      load,
      frames,
      errorFrames: isJudged ? errorFrames : NaN,
      lostMessages: isJudged ? lostMessages : NaN,
      // The first frame of all came after no gap.
      gaps: traffic.gaps[bus] - 1,
    };
  }

  #lost(bus: number): number {
    let lost = 0;
    for (let sender = bus << 8; sender < (bus + 1) << 8; sender++) {
      lost += this.lostBySender[sender];
    }
    return lost;
  }
}
