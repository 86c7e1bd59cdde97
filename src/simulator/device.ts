import type { Micros } from "../ground/time.ts";
import type { Values } from "./message-encoder.ts";
import type { FaultyReading } from "./reading-fault.ts";
import { addressClaim, productInformation } from "./self-description.ts";
import type { DeviceFacts, Sending } from "./sending.ts";

/** A box on the bus with its own address and NAME, and what may be wrong with it. */
export class Device {
  readonly sendings: readonly Sending[];
  /** Where it is on the bus now. */
  address: number;
  /** Whether its plug is in and its key, if it has one, is on. */
  powered = true;
  /** Seconds until it is back after its feed sagged; then those in which it has nothing to say. */
  booting = 0;
  warmingUp = 0;
  /** It talks, but everything that it measures is "not available". */
  sensorsGone = false;
  /** The instance that somebody set instead of its own. */
  instance: number | null = null;
  /** How long it repeats what it measured; 0: it always measures anew. */
  repeats: Micros = 0;
  faultyReadings: readonly FaultyReading[] = [];
  readonly #last = new Map<Sending, { readonly at: Micros; readonly values: Values }>();

  constructor(readonly facts: DeviceFacts, sendings: readonly Sending[]) {
    this.address = facts.address;
    this.sendings = [
      addressClaim(facts, () => this.address),
      productInformation(facts),
      ...sendings,
    ];
  }

  /** Whether it is on the bus. */
  get talks(): boolean {
    return this.powered && this.booting === 0;
  }

  valuesOf(sending: Sending, time: Micros, sequence: number): Values {
    if (sending.period === null) return { ...sending.key, ...sending.measured(time, sequence) };
    const key = this.instance === null || sending.key === undefined
      ? sending.key
      : { ...sending.key, instance: this.instance };
    if (this.sensorsGone || this.warmingUp > 0) return { ...key };
    const measured = { ...key, ...this.#measured(sending, time, sequence) };
    return this.faultyReadings.reduce<Values>((said, faulty) => faulty.applyTo(said), measured);
  }

  #measured(sending: Sending, time: Micros, sequence: number): Values {
    if (this.repeats === 0) return sending.measured(time, sequence);
    const last = this.#last.get(sending);
    if (last !== undefined && time - last.at < this.repeats) return last.values;
    const values = sending.measured(time, sequence);
    this.#last.set(sending, { at: time, values });
    return values;
  }
}
