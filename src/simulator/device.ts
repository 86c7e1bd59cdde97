import type { Micros } from "../ground/time.ts";
import type { Values } from "./message-encoder.ts";

/** One message that a device sends again and again. */
export interface Sending {
  readonly pgn: number;
  /** Time from one to the next; null: once, when the device comes on the bus. */
  readonly period: Micros | null;
  /** What the device says of itself, sensors or not: instance, fluid, reference. */
  readonly key?: Values;
  /** `sequence` counts 0 to 252 and ties messages of one measurement together. */
  measured(time: Micros, sequence: number): Values;
  /** A number; the message is sent at once when it changes. */
  watched?(): number;
}

export interface DeviceFacts {
  /** As scenarios name it: "shunt". */
  readonly name: string;
  /** Where it claims its place on the bus, 0 to 251. */
  readonly address: number;
  /** 21 bits of its NAME, unlike any other's. */
  readonly identity: number;
  /** ISO 11783-5 device class and function; numbers from memory. */
  readonly deviceClass: number;
  readonly deviceFunction: number;
  readonly deviceInstance?: number;
  readonly model: string;
  readonly serial: string;
}

/** A box on the bus with its own address and NAME. */
export class Device {
  readonly sendings: readonly Sending[];
  powered = true;
  /** It talks, but everything that it measures is "not available". */
  sensorsGone = false;

  constructor(readonly facts: DeviceFacts, sendings: readonly Sending[]) {
    this.sendings = [addressClaim(facts), productInformation(facts), ...sendings];
  }

  valuesOf(sending: Sending, time: Micros, sequence: number): Values {
    const blind = this.sensorsGone && sending.period !== null;
    return { ...sending.key, ...(blind ? {} : sending.measured(time, sequence)) };
  }
}

/** Stands for no maker, as far as we know. */
const MANUFACTURER_CODE = 2040;
const MARINE_INDUSTRY = 4;

function addressClaim(facts: DeviceFacts): Sending {
  const instance = facts.deviceInstance ?? 0;
  return {
    pgn: 60928,
    period: null,
    measured: () => ({
      "identity-number": facts.identity,
      "manufacturer-code": MANUFACTURER_CODE,
      "device-instance-lower": instance & 7,
      "device-instance-upper": instance >> 3,
      "device-function": facts.deviceFunction,
      "device-class": facts.deviceClass,
      "system-instance": 0,
      "industry-group": MARINE_INDUSTRY,
      "arbitrary-address": "yes",
    }),
  };
}

function productInformation(facts: DeviceFacts): Sending {
  return {
    pgn: 126996,
    period: null,
    measured: () => ({
      "network-version": 2.1,
      "product-code": 1000 + facts.address,
      model: facts.model,
      "software-version": "1.4",
      "model-version": "B",
      serial: facts.serial,
      "certification-level": 1,
      "load-equivalency": 1,
    }),
  };
}
