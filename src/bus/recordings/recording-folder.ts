import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { sayWhy } from "../../ground/say-why.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { BusNames } from "../bus-names.ts";
import type { FrameBatch } from "../frame-batch.ts";
import { CandumpWriter } from "./candump-writer.ts";
import { recordingName } from "./file-name.ts";
import { Rotation, type RotationRules } from "./rotation.ts";

/** Lines are written once they have waited so long; with a look each half second none waits a second. */
const KEPT_BACK: Micros = SECOND / 2;
/** Lines that wait are written before their time is up where there are more than this. */
const MOST_WAITING = 1024 * 1024;
/** A second of a full bus packs in a few milliseconds. */
const PACKING = { level: 6 };

/** A recording could not be written. The message is a sentence without its full stop. */
export class CannotRecord extends Error {
  override readonly name = "CannotRecord";
}

/**
 * Recordings in a folder: candump lines, packed, in a new file whenever `Rotation` says so. Within a
 * second what has come is packed as a gzip member of its own and synced to the disk, so that a file
 * stays readable up to its last second whatever happens to the computer. An edge: it writes files.
 *
 * Order of calls: `take` for every batch, `flush` each half second, `close` at the end.
 */
export class RecordingFolder {
  readonly #folder: string;
  readonly #writer: CandumpWriter;
  readonly #rotation: Rotation;
  readonly #waiting = new Uint8Array(2 * MOST_WAITING);
  #waitingLength = 0;
  #waitingSince: Micros = 0;
  #file: Deno.FsFile | undefined;
  /** Calls follow one another, also those of `flush` by a timer. */
  #under: Promise<void> = Promise.resolve();
  /** Whole places of the files that were begun. */
  readonly files: string[] = [];

  constructor(folder: string, buses: BusNames, rules: RotationRules) {
    this.#folder = folder;
    this.#writer = new CandumpWriter(buses);
    this.#rotation = new Rotation(rules);
  }

  /**
   * Records the frames of a batch. `arrival`: see `Rotation.portions`.
   * @throws {CannotRecord}
   */
  take(batch: FrameBatch, arrival: Micros | undefined): Promise<void> {
    return this.#next(async () => {
      for (const { from, to, begins } of this.#rotation.portions(batch, arrival)) {
        if (begins !== undefined) await this.#begin(begins);
        await this.#add(this.#writer.lines(batch, from, to), arrival ?? batch.times[to - 1]);
      }
    });
  }

  /**
   * Writes what has waited long enough at a time, on the clock of `arrival`.
   * @throws {CannotRecord}
   */
  flush(now: Micros): Promise<void> {
    return this.#next(async () => {
      if (this.#waitingLength > 0 && now - this.#waitingSince >= KEPT_BACK) await this.#write();
    });
  }

  /** @throws {CannotRecord} */
  close(): Promise<void> {
    return this.#next(() => this.#end());
  }

  #next(work: () => Promise<void>): Promise<void> {
    const done = this.#under.then(work);
    this.#under = done.catch(() => {});
    return done;
  }

  async #add(lines: Uint8Array, now: Micros): Promise<void> {
    for (let at = 0; at < lines.length; at += MOST_WAITING) {
      const part = lines.subarray(at, at + MOST_WAITING);
      if (this.#waitingLength === 0) this.#waitingSince = now;
      this.#waiting.set(part, this.#waitingLength);
      this.#waitingLength += part.length;
      const due = now - this.#waitingSince >= KEPT_BACK;
      if (due || this.#waitingLength > MOST_WAITING) await this.#write();
    }
  }

  async #begin(begins: Micros): Promise<void> {
    await this.#end();
    await attempt(this.#folder, async () => {
      await Deno.mkdir(this.#folder, { recursive: true });
      for (let turn = 1; this.#file === undefined; turn++) {
        const file = join(this.#folder, recordingName(begins, turn));
        this.#file = await Deno.open(file, { write: true, createNew: true }).catch((error) => {
          if (error instanceof Deno.errors.AlreadyExists) return undefined;
          throw error;
        });
        if (this.#file !== undefined) this.files.push(file);
      }
      // The file's name must be on the disk, too.
      using folder = await Deno.open(this.#folder);
      await folder.sync();
    });
  }

  async #write(): Promise<void> {
    const file = this.#file;
    if (file === undefined || this.#waitingLength === 0) return;
    const member = gzipSync(this.#waiting.subarray(0, this.#waitingLength), PACKING);
    this.#waitingLength = 0;
    await attempt(this.files[this.files.length - 1], async () => {
      for (let at = 0; at < member.length;) at += await file.write(member.subarray(at));
      await file.syncData();
    });
    this.#rotation.wrote(member.length);
  }

  async #end(): Promise<void> {
    try {
      await this.#write();
    } finally {
      this.#file?.close();
      this.#file = undefined;
    }
  }
}

async function attempt(place: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    throw new CannotRecord(`${place} cannot be written (${sayWhy(error)})`);
  }
}
