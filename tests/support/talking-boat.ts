import type { Boat } from "../../src/boat/boat.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BoatSignals } from "../../src/boat/boat-signals.ts";
import { QUALITY_WORDS, REASON_WORDS } from "../../src/boat/quality.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { encodeMessage, type WireValue } from "../../src/nmea2000/encode.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

/** 2026-06-14T10:00:00Z */
export const MORNING: Micros = 1_781_431_200 * SECOND;

export interface Said {
  readonly source?: number;
  readonly bus?: string;
  /** Bytes that are sent; the whole message when not given. */
  readonly length?: number;
}

/** A boat that is given messages in words and asked for its signals; times in seconds. */
export class TalkingBoat {
  readonly columns = new Columns(ALL_ROWS);
  readonly busNames = new BusNames();
  readonly devices = new DeviceList(this.columns);
  readonly signals: BoatSignals;

  constructor(boat: Partial<Boat> = {}) {
    this.signals = new BoatSignals({
      boat: { ...UNKNOWN_BOAT, ...boat },
      busNames: this.busNames,
      columns: this.columns,
      devices: this.devices,
    });
  }

  /** Runs what is due, then takes a message; times are seconds since `MORNING`. */
  say(
    seconds: number,
    pgn: number,
    values: Readonly<Record<string, WireValue>>,
    from: Said = {},
  ): void {
    this.#take(seconds, pgn, encodeMessage(ALL_ROWS[this.columns.rowOf(pgn)], values), from);
  }

  /** The same for bytes in hex. */
  sayBytes(seconds: number, pgn: number, hex: string, from: Said = {}): void {
    const bytes = Uint8Array.from(hex.split(" "), (byte) => parseInt(byte, 16));
    this.#take(seconds, pgn, bytes, from);
  }

  #take(
    seconds: number,
    pgn: number,
    bytes: Uint8Array,
    { source = 1, bus = "can0", length = bytes.length }: Said,
  ): void {
    const now = this.pass(seconds);
    const message = {
      row: this.columns.rowOf(pgn),
      pgn,
      source,
      destination: 255,
      bus: this.busNames.numberOf(bus),
      bytes,
      start: 0,
      length,
    };
    this.devices.take(message, now);
    this.signals.take(message, now);
  }

  /** A device claims an address; its identity number tells it from others. */
  claim(seconds: number, source: number, identity: number): void {
    this.say(seconds, 60928, {
      "identity-number": identity,
      "manufacturer-code": 2000,
      "device-instance-lower": 0,
      "device-instance-upper": 0,
      "device-function": 140,
      "device-class": 50,
      "system-instance": 0,
      "industry-group": 4,
      "arbitrary-address": "yes",
    }, { source });
  }

  /** The device at an address gives its serial number. */
  introduce(seconds: number, source: number, serial: string): void {
    this.say(seconds, 126996, { serial }, { source });
  }

  /** Runs every timer due at or before a time. */
  pass(seconds: number): Micros {
    const now = MORNING + Math.round(seconds * SECOND);
    while (this.signals.nextDue <= now) this.signals.runTimer();
    return now;
  }

  /** "3000 good", "3000 uncertain two-senders", "bad not-heard"; "none" where there is no such signal. */
  read(name: string): string {
    const { table } = this.signals;
    const signal = table.find(name);
    if (signal < 0) return "none";
    const quality = QUALITY_WORDS[table.qualities[signal]];
    const reason = REASON_WORDS[table.reasons[signal]];
    const value = table.word(signal) ?? String(table.values[signal]);
    return [quality === "bad" ? "" : value, quality, reason].filter((word) => word !== "").join(
      " ",
    );
  }

  /** Seconds since `MORNING` at which a signal last changed. */
  changedAt(name: string): number {
    return (this.signals.table.changedAt[this.signals.table.find(name)] - MORNING) / SECOND;
  }

  names(): string[] {
    return this.signals.table.facts.map((facts) => facts.name);
  }
}
