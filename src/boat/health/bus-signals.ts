import type { Micros } from "../../ground/time.ts";
import type { DerivedSignals } from "../derived-signals.ts";
import type { BusSecond } from "./bus-health.ts";

/** The signals of one bus, by the name of its network. */
export class BusSignals {
  readonly #load: number;
  readonly #frames: number;
  readonly #errorFrames: number;
  readonly #lostMessages: number;
  readonly #gaps: number;
  readonly #conflicts: number;
  readonly #busOff: number;
  #voltage = -1;

  constructor(
    readonly derived: DerivedSignals,
    readonly network: string,
    readonly bitRate: number,
  ) {
    const make = (quantity: string) => derived.make("network", network, quantity);
    this.#load = make("load");
    this.#frames = make("frames");
    this.#errorFrames = make("error-frames");
    this.#lostMessages = make("lost-messages");
    this.#gaps = make("gaps");
    this.#conflicts = make("address-conflicts");
    this.#busOff = make("bus-off");
  }

  say(second: BusSecond, conflicts: number, now: Micros): void {
    const { derived } = this;
    derived.say(this.#load, Math.round(second.load * 10) / 10, now);
    derived.say(this.#frames, second.frames, now);
    derived.say(this.#errorFrames, second.errorFrames, now);
    derived.say(this.#lostMessages, second.lostMessages, now);
    derived.say(this.#gaps, second.gaps, now);
    derived.say(this.#conflicts, conflicts, now);
    derived.say(this.#busOff, second.isOff ? 1 : 0, now);
  }

  /** The lowest supply that is told, in volts: a signal only where a device tells one. */
  sayVoltage(volts: number | undefined, now: Micros): void {
    if (volts === undefined && this.#voltage < 0) return;
    if (this.#voltage < 0) this.#voltage = this.derived.make("network", this.network, "voltage");
    this.derived.say(this.#voltage, volts ?? NaN, now);
  }
}
