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
  /** V of its feed below which it starts anew; 9 when not given. */
  readonly brownOut?: number;
}
