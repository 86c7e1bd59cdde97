import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import type { WireValue } from "../../src/nmea2000/encode.ts";
import { FrameWriter } from "../../src/nmea2000/frame-writer.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { MORNING } from "./talking-boat.ts";

const PSI = 6894.757293168362;

export interface EngineSays {
  readonly source?: number;
  readonly speed: WireValue;
  /** psi */
  readonly oil?: number;
  readonly status?: WireValue;
}

/** A recording whose messages are said in words; times are seconds from its beginning. */
export class SpokenRecording {
  readonly #batch = new FrameBatch(60_000);
  readonly #writer = new FrameWriter();
  readonly #rows = new Map(ALL_ROWS.map((row) => [row.pgn, row]));

  readonly #buses: BusNames;

  constructor(readonly begins: Micros = MORNING, buses = new BusNames()) {
    this.#buses = buses;
  }

  say(
    seconds: number,
    pgn: number,
    values: Readonly<Record<string, WireValue>>,
    source = 1,
  ): this {
    const row = this.#rows.get(pgn);
    if (row === undefined) throw new RangeError(`no row for ${pgn}`);
    const time = this.begins + Math.round(seconds * SECOND);
    const envelope = { bus: this.#buses.numberOf("can0"), source, time };
    if (!this.#writer.write(this.#batch, row, values, envelope)) throw new RangeError("no room");
    return this;
  }

  /** An engine gateway at its usual periods: speed ten times a second, the rest twice. */
  engine(from: number, to: number, { source = 1, speed, oil, status }: EngineSays): this {
    for (let tick = Math.round(from * 10); tick < Math.round(to * 10); tick++) {
      const seconds = tick / 10 + source / 1000;
      this.say(seconds, 127488, { instance: 0, speed }, source);
      if (tick % 5 !== 0) continue;
      const pressure = oil === undefined ? null : oil * PSI;
      const values = { "instance": 0, "oil-pressure": pressure };
      const whole = status === undefined ? values : { ...values, "status-1": status };
      this.say(seconds, 127489, whole, source);
    }
    return this;
  }

  /** A battery that has no name says that it is well, so that the bus is alive. */
  battery(from: number, to: number): this {
    for (let at = from; at < to; at += 1.5) {
      this.say(at, 127508, { instance: 5, voltage: 12.6 }, 9);
    }
    return this;
  }

  /** Its frames, and the names of its buses. */
  get frames(): { readonly batch: FrameBatch; readonly buses: BusNames } {
    return { batch: this.#batch, buses: this.#buses };
  }

  /** The lines that `candump -L` would have written. */
  get text(): string {
    return new TextDecoder().decode(new CandumpWriter(this.#buses).lines(this.#batch));
  }
}
