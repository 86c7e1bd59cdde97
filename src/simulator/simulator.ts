/**
 * A boat that is not there: its engines, batteries and bilges as a few physical sums, the boxes on
 * its bus, and a story. It makes the frames that such a boat would, and the same seed makes the
 * same frames.
 *
 * Order of calls, twenty times a second of boat time: happenings of the scenario (`perform.ts`) →
 * the boat (`cruiser.ts` and its parts) → who is on the bus (`timetable.ts`); between two steps,
 * the messages that fall due (`device.ts`) → the encoder, which is given.
 */
import type { FrameBatch } from "../bus/frame-batch.ts";
import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import type { Happening, Scenario } from "./happening.ts";
import { type MessageEncoder, MOST_FRAMES } from "./message-encoder.ts";
import { outfit } from "./outfit.ts";
import { perform } from "./perform.ts";
import { Random } from "./random.ts";
import { Timetable } from "./timetable.ts";

const STEP: Micros = 50 * MILLISECOND;
/** A frame of eight bytes with a 29-bit identifier at 250 kbit/s, stuffed bits included. */
const FRAME_TIME: Micros = 560;
/** Sequence identifiers count 0 to 252; what lies above is reserved. */
const SEQUENCES = 253;

export interface SimulatorOptions {
  readonly scenario: Scenario;
  readonly encoder: MessageEncoder;
  /** Time of the first frames. */
  readonly start: Micros;
  /** 1 when not given. */
  readonly seed?: number;
  /** As `BusNames` numbers it; 0 when not given. */
  readonly bus?: number;
}

export class Simulator {
  readonly scenario: Scenario;
  readonly boat: Cruiser;
  readonly devices: readonly Device[];
  readonly start: Micros;
  readonly #encoder: MessageEncoder;
  readonly #bus: number;
  readonly #timetable: Timetable;
  #nextStep: Micros;
  /** Start of the present round of the story. */
  #round: Micros;
  #nextHappening = 0;
  #busFree: Micros = 0;

  constructor(options: SimulatorOptions) {
    const seed = options.seed ?? 1;
    this.scenario = options.scenario;
    this.start = options.start;
    this.boat = new Cruiser(seed, this.scenario.start);
    this.devices = outfit(this.boat, seed, this.scenario.start.gateways);
    this.#encoder = options.encoder;
    this.#bus = options.bus ?? 0;
    this.#timetable = new Timetable(this.devices, new Random(seed, "timetable"));
    this.#nextStep = this.start;
    this.#round = this.start;
  }

  /**
   * Adds the frames that are due up to a time, in order of time.
   * @returns false when the batch is full before that: empty it and call again
   * @throws {RangeError} for a batch that cannot hold a whole message
   */
  fill(batch: FrameBatch, until: Micros): boolean {
    if (batch.capacity < MOST_FRAMES) {
      throw new RangeError(`a batch of ${batch.capacity} frames cannot hold a whole message`);
    }
    for (;;) {
      const next = Math.min(this.#nextStep, this.#timetable.nextDue);
      if (next > until) return true;
      if (next === this.#nextStep) this.#step();
      else if (batch.capacity - batch.count < MOST_FRAMES) return false;
      else this.#send(batch, next);
    }
  }

  /** Lets something happen now, beside the scenario. */
  perform(happening: Happening): void {
    perform(happening, this.boat, this.devices);
  }

  #step(): void {
    const now = this.#nextStep;
    this.#tell(now);
    this.boat.step(STEP / SECOND);
    this.#timetable.look(now);
    this.#nextStep += STEP;
  }

  /** The happenings of the scenario up to now; a story that comes again begins anew. */
  #tell(now: Micros): void {
    const { happenings, lasting, again } = this.scenario;
    if (again && now - this.#round >= lasting) {
      this.#round += lasting;
      this.#nextHappening = 0;
    }
    while (
      this.#nextHappening < happenings.length &&
      this.#round + happenings[this.#nextHappening].at <= now
    ) {
      this.perform(happenings[this.#nextHappening++]);
    }
  }

  /** One message; a bus carries one frame at a time, so frames queue. */
  #send(batch: FrameBatch, time: Micros): void {
    const turn = this.#timetable.take();
    const sequence = (turn.count - 1) % SEQUENCES;
    const first = batch.count;
    this.#encoder.append(batch, {
      time,
      bus: this.#bus,
      pgn: turn.sending.pgn,
      source: turn.device.facts.address,
      values: turn.device.valuesOf(turn.sending, time, sequence),
    });
    for (let frame = first; frame < batch.count; frame++) {
      batch.times[frame] = Math.max(time, this.#busFree);
      this.#busFree = batch.times[frame] + FRAME_TIME;
    }
  }
}
