import { MOST_BUSES } from "../../bus/bus-names.ts";
import {
  ERROR_KINDS,
  ErrorClass,
  type ErrorKind,
  errorKinds,
  WIRING_KINDS,
} from "../../bus/error-kinds.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../../bus/frame-batch.ts";
import { plainBits, stuffBits } from "./frame-bits.ts";

const EXTENDED = FrameFlag.extended;
/** The first frames of a second are measured to the bit, and then one in 256. */
const FIRST_SAMPLES = 4;
const SAMPLE_MASK = 255;
/** How much of what was sampled before counts on in the next second. */
const KEPT_SAMPLE = 0.95;

/**
 * Counts the frames of each bus, at the cost of a few additions a frame. Plain lengths are added up
 * for all of them; how many stuff bits come on top is measured on a sample and taken for the rest.
 */
export class BusTraffic {
  /** By bus, since the last `begin`. */
  readonly frames = new Uint32Array(MOST_BUSES);
  readonly errorFrames = new Uint32Array(MOST_BUSES);
  /** Those of them that tell of the wiring. */
  readonly wiringErrors = new Uint32Array(MOST_BUSES);
  /** By bus, since listening began. */
  readonly allErrorFrames = new Uint32Array(MOST_BUSES);
  /** By bus: 1 once it carried a frame that is no error. */
  readonly hasCarried = new Uint8Array(MOST_BUSES);
  /** How often each kind of error was told on each bus, since listening began. */
  readonly #kinds = new Uint32Array(MOST_BUSES * ERROR_KINDS.length);
  /** By bus: 1 from when its adapter said that it left the bus until it is back. */
  readonly isOff = new Uint8Array(MOST_BUSES);
  /** By bus: data bytes of extended frames, and plain bits of all others. */
  readonly #bytes = new Uint32Array(MOST_BUSES);
  readonly #oddFrames = new Uint32Array(MOST_BUSES);
  readonly #oddBits = new Uint32Array(MOST_BUSES);
  readonly #sampledPlain = new Float64Array(MOST_BUSES);
  readonly #sampledStuff = new Float64Array(MOST_BUSES);

  /** Counts the frames of a batch from one up to, without, another. */
  count(batch: FrameBatch, from: number, to: number): void {
    const { buses } = batch;
    for (let first = from; first < to;) {
      const bus = buses[first];
      let past = first + 1;
      while (past < to && buses[past] === bus) past++;
      this.#countRun(bus, batch, first, past);
      first = past;
    }
  }

  /** Counts frames that follow each other on one bus: its sums stay in registers. */
  #countRun(bus: number, batch: FrameBatch, from: number, to: number): void {
    const { flags, lengths } = batch;
    let frames = this.frames[bus];
    let bytes = 0;
    for (let index = from; index < to; index++) {
      if (flags[index] !== EXTENDED) {
        frames += this.#countOdd(bus, batch, index);
        continue;
      }
      bytes += lengths[index];
      if (frames < FIRST_SAMPLES || (frames & SAMPLE_MASK) === 0) this.#sample(bus, batch, index);
      frames++;
    }
    if (frames > this.frames[bus]) this.hasCarried[bus] = 1;
    this.frames[bus] = frames;
    this.#bytes[bus] += bytes;
    // An adapter that hands on frames is on the bus, whether it said so or not.
    if ((flags[to - 1] & FrameFlag.error) === 0) this.isOff[bus] = 0;
  }

  /** Bits of a bus since the last `begin`, stuff bits included. */
  bits(bus: number): number {
    const stuffed = this.#sampledPlain[bus] === 0
      ? 0
      : this.#sampledStuff[bus] / this.#sampledPlain[bus];
    const extended = this.frames[bus] - this.#oddFrames[bus];
    const plain = extended * plainBits(true, 0) + this.#bytes[bus] * 8 + this.#oddBits[bus];
    return plain * (1 + stuffed);
  }

  /** How often each kind of error was told on a bus since listening began; none that never was. */
  errorKindsOf(bus: number): Partial<Record<ErrorKind, number>> {
    const counts = ERROR_KINDS.map((kind, i) =>
      [kind, this.#kinds[bus * ERROR_KINDS.length + i]] as const
    );
    return Object.fromEntries(counts.filter(([, count]) => count > 0));
  }

  /** Begins to count a bus anew; most of its sample stays. */
  begin(bus: number): void {
    this.frames[bus] = 0;
    this.errorFrames[bus] = 0;
    this.wiringErrors[bus] = 0;
    this.#bytes[bus] = 0;
    this.#oddFrames[bus] = 0;
    this.#oddBits[bus] = 0;
    this.#sampledPlain[bus] *= KEPT_SAMPLE;
    this.#sampledStuff[bus] *= KEPT_SAMPLE;
  }

  /** A frame that is not an extended one; returns how many frames of data or request it is. */
  #countOdd(bus: number, batch: FrameBatch, index: number): number {
    const flags = batch.flags[index];
    const length = batch.lengths[index];
    if ((flags & FrameFlag.error) !== 0) {
      this.#countError(bus, batch, index);
      return 0;
    }
    const bytes = (flags & FrameFlag.remote) === 0 ? length : 0;
    this.#oddFrames[bus]++;
    this.#oddBits[bus] += plainBits((flags & EXTENDED) !== 0, bytes);
    return 1;
  }

  #countError(bus: number, batch: FrameBatch, index: number): void {
    const identifier = batch.identifiers[index];
    const kinds = errorKinds(identifier, batch.data, index * FRAME_BYTES, batch.lengths[index]);
    this.errorFrames[bus]++;
    this.allErrorFrames[bus]++;
    // One that says nothing of itself is taken for one too.
    const isOfWiring = kinds.length === 0 || kinds.some((kind) => WIRING_KINDS.has(kind));
    if (isOfWiring) this.wiringErrors[bus]++;
    for (const kind of kinds) {
      this.#kinds[bus * ERROR_KINDS.length + ERROR_KINDS.indexOf(kind)]++;
    }
    if ((identifier & ErrorClass.busOff) !== 0) this.isOff[bus] = 1;
    if ((identifier & ErrorClass.restarted) !== 0) this.isOff[bus] = 0;
  }

  #sample(bus: number, batch: FrameBatch, index: number): void {
    const length = batch.lengths[index];
    const { data, identifiers } = batch;
    this.#sampledPlain[bus] += plainBits(true, length);
    this.#sampledStuff[bus] += stuffBits(identifiers[index], data, index * FRAME_BYTES, length);
  }
}
