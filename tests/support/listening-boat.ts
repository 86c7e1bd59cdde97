import { type Boat, UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BoatSignals } from "../../src/boat/boat-signals.ts";
import { HealthSignals } from "../../src/boat/health/health-signals.ts";
import { QUALITY_WORDS, REASON_WORDS } from "../../src/boat/quality.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import { Timeline } from "../../src/ground/timeline.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import type { RememberedDevice } from "../../src/nmea2000/device-memory.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import type { WireValue } from "../../src/nmea2000/encode.ts";
import { FrameWriter } from "../../src/nmea2000/frame-writer.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { MORNING } from "./talking-boat.ts";

const columns = new Columns(ALL_ROWS);

/** A boat that is given frames, health and all, without rules; times in seconds since `MORNING`. */
export class ListeningBoat {
  readonly busNames = new BusNames();
  readonly assembler = new MessageAssembler(columns);
  readonly devices: DeviceList;
  readonly signals: BoatSignals;
  readonly health: HealthSignals;
  readonly #timeline = new Timeline();
  readonly #writer = new FrameWriter();

  constructor(described: Partial<Boat> = {}, remembered?: readonly RememberedDevice[]) {
    const { assembler, busNames } = this;
    const boat = { ...UNKNOWN_BOAT, ...described };
    const devices = new DeviceList(columns, remembered && { devices: remembered, busNames });
    this.devices = devices;
    this.signals = new BoatSignals({ boat, busNames, columns, devices });
    this.health = new HealthSignals({
      boat,
      busNames,
      columns,
      devices,
      signals: this.signals,
      lostBySender: assembler.counts.lostBySource,
      wallOf: (steady) => this.#timeline.wallOf(steady),
    });
  }

  /** A whole message, all its frames at one time; `leaveOut` is the number of a frame that is lost. */
  say(
    seconds: number,
    pgn: number,
    values: Readonly<Record<string, WireValue>>,
    { source = 1, bus = "can0", leaveOut = -1 } = {},
  ): void {
    const batch = new FrameBatch(32);
    const time = at(seconds);
    const to = { bus: this.busNames.numberOf(bus), source, time };
    this.#writer.write(batch, ALL_ROWS[columns.rowOf(pgn)], values, to);
    for (let i = 0; i < batch.count; i++) if (i !== leaveOut) this.frame(batch, i);
  }

  /** The adapter reports an error. */
  /** @param identifier what the adapter reports: bits of `ErrorClass` */
  error(seconds: number, bus = "can0", identifier = 0, data: readonly number[] = []): void {
    const batch = new FrameBatch(1);
    batch.times[0] = at(seconds);
    batch.buses[0] = this.busNames.numberOf(bus);
    batch.flags[0] = FrameFlag.error;
    batch.identifiers[0] = identifier;
    batch.lengths[0] = 8;
    batch.data.set(data);
    this.frame(batch, 0);
  }

  frame(batch: FrameBatch, index: number): void {
    const now = this.#timeline.reach(batch.times[index]);
    this.#runTimers(now);
    const bus = batch.buses[index];
    if (this.health.awake[bus] === 0) this.health.wake(bus, now);
    this.health.count(batch, index, index + 1);
    if (!this.assembler.accept(batch, index, now)) return;
    this.devices.take(this.assembler, now);
    this.health.take(this.assembler, now);
    this.signals.take(this.assembler, now);
  }

  pass(seconds: number): void {
    const now = this.#timeline.reach(at(seconds));
    this.health.listen(now);
    this.#runTimers(now);
  }

  claim(seconds: number, source: number, identity: number): void {
    this.say(seconds, 60928, {
      "identity-number": identity,
      "manufacturer-code": 2000,
      "industry-group": 4,
      "arbitrary-address": "yes",
    }, { source });
  }

  /** As `TalkingBoat.read` says it. */
  read(name: string): string {
    const { table } = this.signals;
    const signal = table.find(name);
    if (signal < 0) return "none";
    const quality = QUALITY_WORDS[table.qualities[signal]];
    const value = quality === "bad" ? "" : String(table.values[signal]);
    return [value, quality, REASON_WORDS[table.reasons[signal]]].filter((it) => it !== "").join(
      " ",
    );
  }

  #runTimers(now: Micros): void {
    for (;;) {
      const due = Math.min(this.signals.nextDue, this.health.nextDue);
      if (due > now) return;
      if (this.signals.nextDue === due) this.signals.runTimer();
      else {
        this.assembler.expire(due);
        this.health.runTimer();
      }
    }
  }
}

function at(seconds: number): Micros {
  return MORNING + Math.round(seconds * SECOND);
}
