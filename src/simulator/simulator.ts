/**
 * A boat that is not there: its engines, batteries and bilges as a few physical sums, the boxes on
 * its bus, and a story. It makes the frames that such a boat would, and the same seed makes the
 * same frames.
 *
 * Order of calls, twenty times a second of boat time: happenings of the scenario (`perform.ts`,
 * `fault.ts`) → the boat (`cruiser.ts` and its parts) → what the boxes are fed with (`feed.ts`)
 * → who is on the bus (`timetable.ts`); between two steps, the messages that fall due (`device.ts`)
 * → the encoder, which is given → the line that carries the frames, or loses them (`backbone.ts`).
 */
import type { FrameBatch } from "../bus/frame-batch.ts";
import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import { Backbone, misframe } from "./backbone.ts";
import { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import { Feed } from "./feed.ts";
import type { Happening, Scenario } from "./happening.ts";
import { type MessageEncoder, MOST_FRAMES } from "./message-encoder.ts";
import { outfit } from "./outfit.ts";
import { perform } from "./perform.ts";
import { Random } from "./random.ts";
import { misframedName, type Scene } from "./scene.ts";
import { Timetable } from "./timetable.ts";

const STEP: Micros = 50 * MILLISECOND;
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
  readonly #feed: Feed;
  readonly #scene: Scene;
  #nextStep: Micros;
  /** Start of the present round of the story. */
  #round: Micros;
  #nextHappening = 0;

  constructor(options: SimulatorOptions) {
    const seed = options.seed ?? 1;
    this.scenario = options.scenario;
    this.start = options.start;
    const random = (label: string) => new Random(seed, label);
    const { start, aboard } = this.scenario;
    const boat = new Cruiser(seed, start, aboard);
    this.boat = boat;
    this.devices = outfit(boat, seed, this.scenario);
    this.#encoder = options.encoder;
    this.#bus = options.bus ?? 0;
    this.#timetable = new Timetable(this.devices, random("timetable"));
    const feeding = aboard?.busFedBy === "start" ? boat.startBattery : boat.house;
    this.#feed = new Feed(this.devices, () => feeding.volts, random("feed"));
    this.#scene = {
      boat,
      devices: this.devices,
      backbone: new Backbone(random("backbone")),
      misframed: new Set(),
      random,
    };
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
      const held = this.#scene.backbone.nextDue;
      const next = Math.min(this.#nextStep, this.#timetable.nextDue, held);
      if (next > until) return true;
      if (next === this.#nextStep) this.#step();
      else if (batch.capacity - batch.count < MOST_FRAMES) return false;
      else if (next === held) this.#scene.backbone.release(batch);
      else this.#send(batch, next);
    }
  }

  /** Lets something happen now, beside the scenario. */
  perform(happening: Happening): void {
    perform(happening, this.#scene);
  }

  #step(): void {
    const now = this.#nextStep;
    this.#tell(now);
    this.boat.step(STEP / SECOND);
    this.#feed.step(STEP / SECOND);
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

  /** One message, on its way. */
  #send(batch: FrameBatch, time: Micros): void {
    const { device, sending, count } = this.#timetable.take();
    const first = batch.count;
    this.#encoder.append(batch, {
      time,
      bus: this.#bus,
      pgn: sending.pgn,
      source: device.address,
      values: device.valuesOf(sending, time, (count - 1) % SEQUENCES),
    });
    const { misframed, backbone } = this.#scene;
    if (misframed.size > 0 && misframed.has(misframedName(device, sending.pgn))) {
      misframe(batch, first);
    }
    backbone.carry(batch, first, time);
  }
}
