import { resolve } from "node:path";
import { BusNames } from "../bus/bus-names.ts";
import { type FrameSource, SourceEndedEarly } from "../bus/frame-source.ts";
import { CannotRecord, RecordingFolder } from "../bus/recordings/recording-folder.ts";
import type { Clock } from "../ground/clock.ts";
import { SECOND } from "../ground/time.ts";
import { parseDuration } from "../units/duration.ts";
import { readByteSize } from "./command-line/byte-size.ts";
import type { Command, Surroundings } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { readBoat } from "./settings/read-boat.ts";
import { openSource } from "./sources/open-source.ts";
import { speakOfEarlyEnd, speakOfKept, stopWhen } from "./sources/read-source.ts";
import { realClock } from "./watching/real-clock.ts";
import { sourceNews } from "./sources/source-news.ts";
import { shortName } from "./command-line/text-file.ts";

const USUAL_FOLDER = "recordings";
const USUAL_TIME = "1 h";
const USUAL_SIZE = "50 MB";
const FLUSH_EVERY_MS = 500;

export const record: Command = {
  name: "record",
  usage: "sternfast record INPUT",
  description: `Writes every frame of a bus into recordings that all other commands read. A new file
begins after a time, after a size, and when this computer's clock is set. A power
cut loses the last second at most. Old recordings are never removed.`,
  examples: [
    "sternfast record socketcan:can0",
    "candump -L can0 | sternfast record - --folder /media/card",
    "sternfast record slcan:/dev/ttyACM0 --every '1 d' --most '200 MB'",
  ],
  options: {
    boat: { value: "FILE", help: "the boat file, where it says how fast this bus runs" },
    folder: { value: "DIR", help: `where recordings go; else ${USUAL_FOLDER} in this folder` },
    every: { value: "TIME", help: `begin a new file after this; else ${USUAL_TIME}` },
    most: { value: "SIZE", help: `begin a new file after this, packed; else ${USUAL_SIZE}` },
  },
  async run(given, around) {
    const { terminal, interrupted } = around;
    const [input, ...more] = given.words;
    if (input === undefined || more.length > 0) {
      throw new CommandFailure("record needs one input, such as socketcan:can0");
    }
    const rules = {
      every: readEvery(given.text("every") ?? USUAL_TIME),
      most: readByteSize("--most", given.text("most") ?? USUAL_SIZE),
    };
    const place = resolve(around.folder, given.text("folder") ?? USUAL_FOLDER);
    const boat = await readBoat(given.text("boat"), around.folder, terminal);
    const buses = new BusNames();
    const clock = realClock();
    const source = await openSource(input, {
      buses,
      folder: around.folder,
      clock,
      boat,
      told: sourceNews(input, (sentence) => terminal.error(sentence)),
    });
    stopWhen(interrupted, [source]);
    const recordings = new RecordingFolder(place, buses, rules);
    const early = await keep(source, recordings, clock, around);
    speakOfKept(source, terminal);
    terminal.out(
      `${sayCount(source.counts.frames, "frame")} in ` +
        `${sayCount(recordings.files.length, "recording")} in ${shortName(place, around.folder)}`,
    );
    return speakOfEarlyEnd(early, terminal) ? ExitCode.wrongInput : ExitCode.well;
  },
};

/**
 * Records to the end of a source; whatever ends it, what has come by then is on the disk.
 * @returns a sentence if the source ended early
 */
async function keep(
  source: FrameSource,
  recordings: RecordingFolder,
  clock: Clock,
  { terminal }: Surroundings,
): Promise<string[]> {
  let fault: unknown;
  const flushing = setInterval(() => {
    const { frames } = source.counts;
    terminal.status(`${sayCount(frames, "frame")} · ${recordings.files.at(-1) ?? "no file yet"}`);
    if (!source.live) return;
    recordings.flush(clock.steady()).catch((error) => {
      fault = error;
      source.stop();
    });
  }, FLUSH_EVERY_MS);
  const early: string[] = [];
  try {
    try {
      for await (const batch of source.batches()) {
        await recordings.take(batch, source.live ? clock.steady() : undefined);
      }
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      early.push(error.message);
    }
    if (fault !== undefined) throw fault;
    await recordings.close();
    return early;
  } catch (error) {
    if (error instanceof CannotRecord) throw new CommandFailure(`${error.message}.`);
    throw error;
  } finally {
    clearInterval(flushing);
    terminal.status("");
    await recordings.close().catch(() => {});
  }
}

function readEvery(text: string): number {
  const read = parseDuration(text);
  if (read.ok && read.value >= SECOND) return read.value;
  throw new CommandFailure(`--every: found "${text}", expected a time of 1 s or more, such as 1 h`);
}

function sayCount(count: number, one: string): string {
  return `${count.toLocaleString("en")} ${one}${count === 1 ? "" : "s"}`;
}
