import { describe, expect, test } from "vitest";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { DAY, type Micros, SECOND } from "../../ground/time.ts";
import { FrameWriter } from "../../nmea2000/frame-writer.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { minuteOf, USUAL_PLAN } from "../../store/history-plan.ts";
import { HistoryRecorder } from "../../store/history-recorder.ts";
import { Watch } from "../../watch.ts";
import { BoatClock } from "./boat-clock.ts";

/** 2026-06-14T10:00:00Z */
const TEN: Micros = 1_781_431_200 * SECOND;
const ROLLOVER = 1024 * 7 * DAY;

/** A computer that began at some time of its own, and a receiver on its bus. */
class Computer {
  readonly said: string[] = [];
  readonly watch: Watch;
  readonly clock: BoatClock;
  readonly recorder: HistoryRecorder;
  readonly #writer = new FrameWriter();
  #seconds = 0;
  #set: Micros = 0;

  constructor(readonly begins: Micros) {
    const busNames = new BusNames();
    busNames.numberOf("can0");
    this.watch = new Watch({
      boat: UNKNOWN_BOAT,
      rules: [],
      busNames,
      onSignals: (_signals, _by, now) => this.recorder.take(now),
    });
    const wall = () => this.begins + this.#seconds * SECOND + this.#set;
    const steady = () => this.#seconds * SECOND;
    this.clock = new BoatClock({ steady, wall }, this.watch, (sentence) => {
      this.said.push(sentence);
    });
    this.recorder = new HistoryRecorder({
      table: this.watch.signals.table,
      plan: { ...USUAL_PLAN, listed: [{ name: "rudder/0/angle", every: 1 }] },
      isNamed: () => false,
      wallOf: (steady) => this.watch.timeline.wallOf(steady),
    });
  }

  /** A rudder and a receiver that tells the time, wrong by `error`; null: it says nothing. */
  hear(seconds: number, error: Micros | null): this {
    for (const end = this.#seconds + seconds; this.#seconds < end; this.#seconds++) {
      this.#say(127245, { instance: 0, "rudder-angle": this.#seconds / 1e4 });
      const told = TEN + this.#seconds * SECOND + (error ?? 0);
      const date = Math.floor(told / DAY);
      if (error !== null) this.#say(126992, { date, time: (told % DAY) / SECOND });
      this.clock.follow(this.watch.timeline.now);
      this.recorder.reach(this.watch.timeline.now);
    }
    return this;
  }

  /** Somebody sets the computer's clock; the stamps of frames are kept steady by their source. */
  setClock(): this {
    this.#set = TEN - this.begins;
    this.clock.stepped(this.#set);
    return this;
  }

  /** Seconds by which the times that are written are wrong; NaN: more than a year. */
  get wrong(): { readonly signals: number; readonly clock: number } {
    const truth = TEN + this.#seconds * SECOND;
    const { timeline } = this.watch;
    const of = (wall: Micros) => {
      const seconds = Math.round((wall - truth) / SECOND);
      return Math.abs(seconds) > 365 * 86_400 ? NaN : seconds;
    };
    return {
      signals: of(timeline.wallOf(timeline.now + SECOND)),
      clock: of(this.clock.wall()),
    };
  }

  #say(pgn: number, values: Readonly<Record<string, number>>): void {
    const row = ALL_ROWS.find((one) => one.pgn === pgn);
    if (row === undefined) throw new RangeError(`no row for ${pgn}`);
    const batch = new FrameBatch(8);
    const time = this.begins + this.#seconds * SECOND;
    this.#writer.write(batch, row, values, { bus: 0, source: 1, time });
    this.watch.feed(batch);
  }
}

describe("situation 11: the computer's clock began in 1970", () => {
  test("the time of the bus is taken after a minute, never a date 1,024 weeks old", () => {
    const computer = new Computer(20 * SECOND);
    computer.hear(120, -ROLLOVER).hear(30, null).hear(55, 0);
    expect(computer.wrong).toEqual({ signals: NaN, clock: NaN });
    computer.hear(10, 0);
    expect(computer.wrong).toEqual({ signals: 0, clock: 0 });
    expect(computer.said).toEqual([
      "The computer's clock is not set; the time is taken from the bus.",
    ]);
    // The receiver goes quiet, or falls back: the time goes on.
    computer.hear(600, null).hear(100, -ROLLOVER);
    expect(computer.wrong).toEqual({ signals: 0, clock: 0 });
    expect(computer.watch.timeline.now).toBe(20 * SECOND + 914 * SECOND);
  });

  test("minutes from before are moved to their true names, each once", () => {
    const computer = new Computer(20 * SECOND).hear(130, -ROLLOVER).hear(200, 0);
    const finished = computer.recorder.drain();
    const shift = computer.recorder.shift ?? NaN;
    const minutes = finished.flatMap(({ records, provisional }) =>
      records.map(({ minute }) => minute + (provisional ? shift : 0))
    );
    // They are moved by whole minutes: it had begun 20 s into one of its own.
    const first = minuteOf(TEN) - 1;
    expect(minutes).toEqual(minutes.map((_, i) => first + i));
    expect(minutes.length).toBeGreaterThan(4);
  });

  test("once somebody sets it, it is believed, and nothing is added twice", () => {
    const computer = new Computer(20 * SECOND).hear(100, 0).setClock().hear(100, 0);
    expect(computer.wrong).toEqual({ signals: 0, clock: 0 });
  });

  test("a clock that is set is never doubted", () => {
    const computer = new Computer(TEN + 90 * SECOND).hear(200, 0);
    expect(computer.wrong).toEqual({ signals: 90, clock: 90 });
    expect(computer.said).toEqual([]);
  });
});
