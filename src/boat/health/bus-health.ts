import { MOST_BUSES } from "../../bus/bus-names.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { BusTraffic } from "./bus-traffic.ts";

/** How a bus did in the last whole second. */
export interface BusSecond {
  /** Percent of what the bit rate allows. */
  readonly load: number;
  readonly frames: number;
  /** Of the wiring; NaN: not judged, within the grace after power-up. */
  readonly errorFrames: number;
  readonly lostMessages: number;
  /** Times, since listening began, when nothing came for a whole second and then something did. */
  readonly gaps: number;
  /** The adapter has left the bus because of errors ("bus off"), and hears nothing. */
  readonly isOff: boolean;
}

/** After power-up devices claim addresses, and an adapter meets half a message. */
export const POWER_UP_GRACE: Micros = 30 * SECOND;

/** A bus without a frame for so many seconds is asleep, and powered up when the next one comes. */
export const ASLEEP_AFTER = 10;

/**
 * Turns what was counted on each bus into figures for each second. A bus that falls asleep gets its
 * zeros and is then left alone until it wakes.
 */
export class BusHealth {
  /** By bus: 1 from its first frame until it falls asleep. */
  readonly awake = new Uint8Array(MOST_BUSES);
  /** By bus: when it was powered up, as far as was heard. */
  readonly #poweredUp = new Float64Array(MOST_BUSES);
  /** By bus: whole seconds without a frame. */
  readonly #quiet = new Uint8Array(MOST_BUSES);
  readonly #gaps = new Uint32Array(MOST_BUSES);
  readonly #longestGap = new Float64Array(MOST_BUSES);
  /** By bus: end of the last second with a frame. */
  readonly #spokeUntil = new Float64Array(MOST_BUSES);
  /** By bus: error frames in seconds that were not judged. */
  readonly #unjudgedErrors = new Float64Array(MOST_BUSES);
  readonly #lostBefore = new Float64Array(MOST_BUSES);

  /** @param lostBySender messages lost so far, 256 senders for each bus */
  constructor(readonly traffic: BusTraffic, readonly lostBySender: Uint32Array) {}

  /** Some bus is awake. */
  get someAwake(): boolean {
    return this.awake.includes(1);
  }

  /** A frame came from a bus that was asleep. */
  wake(bus: number, now: Micros): void {
    this.awake[bus] = 1;
    if (this.#quiet[bus] > 0) this.#endGap(bus, now);
    this.#quiet[bus] = 0;
    this.#spokeUntil[bus] = now;
    this.#poweredUp[bus] = now;
    this.#lostBefore[bus] = this.#lost(bus);
    this.traffic.begin(bus);
  }

  /** Closes the second that ends now; undefined where the bus was not awake for all of it. */
  second(bus: number, bitRate: number, now: Micros): BusSecond | undefined {
    const { traffic } = this;
    const lost = this.#lost(bus);
    const lostMessages = lost - this.#lostBefore[bus];
    this.#lostBefore[bus] = lost;
    const frames = traffic.frames[bus];
    const errorFrames = traffic.errorFrames[bus];
    const wiringErrors = traffic.wiringErrors[bus];
    const load = traffic.bits(bus) * 100 / bitRate;
    const isJudged = this.#isJudged(bus, now);
    if (!isJudged) this.#unjudgedErrors[bus] += errorFrames;
    traffic.begin(bus);
    if (now - this.#poweredUp[bus] < SECOND) return undefined;
    this.#followQuiet(bus, frames + errorFrames > 0, now);
    return {
      load,
      frames,
      errorFrames: isJudged ? wiringErrors : NaN,
      lostMessages: isJudged ? lostMessages : NaN,
      gaps: this.#gaps[bus],
      isOff: traffic.isOff[bus] === 1,
    };
  }

  /** Error frames within the grace after power-up, so far. */
  errorFramesAtPowerUp(bus: number, now: Micros): number {
    const inThisSecond = this.#isJudged(bus, now) ? 0 : this.traffic.errorFrames[bus];
    return this.#unjudgedErrors[bus] + inThisSecond;
  }

  /** Whether errors count in the second that ends now. */
  #isJudged(bus: number, now: Micros): boolean {
    return now - this.#poweredUp[bus] >= POWER_UP_GRACE + SECOND;
  }

  /** How long the longest gap was, to the second; a silence that lasts is none. */
  longestGap(bus: number): Micros {
    return this.#longestGap[bus];
  }

  #endGap(bus: number, now: Micros): void {
    this.#gaps[bus]++;
    this.#longestGap[bus] = Math.max(this.#longestGap[bus], now - this.#spokeUntil[bus]);
  }

  #followQuiet(bus: number, spoke: boolean, now: Micros): void {
    if (spoke) {
      // The frame that ended it came at some time in this second.
      if (this.#quiet[bus] > 0) this.#endGap(bus, now - SECOND);
      this.#quiet[bus] = 0;
      this.#spokeUntil[bus] = now;
    } else if (++this.#quiet[bus] === ASLEEP_AFTER) {
      this.awake[bus] = 0;
    }
  }

  #lost(bus: number): number {
    let lost = 0;
    for (let sender = bus << 8; sender < (bus + 1) << 8; sender++) {
      lost += this.lostBySender[sender];
    }
    return lost;
  }
}
