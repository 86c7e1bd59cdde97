import { resolve } from "node:path";
import { BusNames } from "../bus/bus-names.ts";
import { type FrameSource, SourceEndedEarly } from "../bus/frame-source.ts";
import { JointRecording } from "../bus/recordings/joint-recording.ts";
import { CannotRecord, RecordingFolder } from "../bus/recordings/recording-folder.ts";
import type { Clock } from "../ground/clock.ts";
import { SECOND } from "../ground/time.ts";
import { parseDuration } from "../units/duration.ts";
import { readByteSize } from "./command-line/byte-size.ts";
import type { Command, Surroundings } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { readBoat } from "./settings/read-boat.ts";
import { refuseOneBusTwice } from "./command-line/one-bus-twice.ts";
import { openSource } from "./sources/open-source.ts";
import { speakOfEarlyEnd, speakOfKept, stopWhen } from "./sources/read-source.ts";
import { realClock } from "./watching/real-clock.ts";
import { sourceNews } from "./sources/source-news.ts";
import { shortName } from "./command-line/text-file.ts";

const USUAL_FOLDER = "recordings";
const USUAL_TIME = "1 h";
const USUAL_SIZE = "50 MB";
const FLUSH_EVERY_MS = 500;
/** What is held first is on its way the earlier. */
const FLUSH_SEVERAL_EVERY_MS = 200;

export const record: Command = {
  name: "record",
  usage: "sternfast record INPUT…",
  description: `Writes every frame of a bus into recordings that all other commands read. A new file
begins after a time, after a size, and when this computer's clock is set. A power
cut loses the last second at most. Old recordings are never removed. Several buses of
this computer go into one recording.`,
  examples: [
    "sternfast record socketcan:can0",
    "sternfast record socketcan:can0 engines=slcan:/dev/ttyACM0",
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
    const inputs = given.words;
    if (inputs.length === 0) {
      throw new CommandFailure("record needs an input, such as socketcan:can0");
    }
    refuseOneBusTwice(inputs);
    const rules = {
      every: readEvery(given.text("every") ?? USUAL_TIME),
      most: readByteSize("--most", given.text("most") ?? USUAL_SIZE),
    };
    const place = resolve(around.folder, given.text("folder") ?? USUAL_FOLDER);
    const boat = await readBoat(given.text("boat"), around.folder, terminal);
    const buses = new BusNames();
    const clock = realClock();
    const sources = await Promise.all(inputs.map((input) =>
      openSource(input, {
        buses,
        folder: around.folder,
        clock,
        boat,
        told: sourceNews(input, (sentence) => terminal.error(sentence)),
      })
    ));
    if (sources.length > 1) refuseMixed(inputs, sources);
    stopWhen(interrupted, sources);
    const recordings = new RecordingFolder(place, buses, rules);
    const early = await keep(sources, recordings, clock, around);
    for (const source of sources) speakOfKept(source, terminal);
    terminal.out(
      `${sayCount(framesOf(sources), "frame")} in ` +
        `${sayCount(recordings.files.length, "recording")} in ${shortName(place, around.folder)}`,
    );
    return speakOfEarlyEnd(early, terminal) ? ExitCode.wrongInput : ExitCode.well;
  },
};

/**
 * One recording has one clock.
 * @throws {CommandFailure}
 */
function refuseMixed(
  inputs: readonly string[],
  sources: readonly FrameSource[],
): void {
  const foreign = sources.findIndex(({ stampedHere }) => stampedHere !== true);
  if (foreign >= 0) {
    throw new CommandFailure(
      `record: ${inputs[foreign]} bears the times of another clock; record it by itself. ` +
        "Several inputs go into one recording where all are of this computer (socketcan:, slcan:).",
    );
  }
}

/**
 * Records to the end of all sources; whatever ends them, what has come by then is on the disk.
 * @returns a sentence for each source that ended early
 */
async function keep(
  sources: readonly FrameSource[],
  recordings: RecordingFolder,
  clock: Clock,
  { terminal }: Surroundings,
): Promise<string[]> {
  let fault: unknown;
  const stopFor = (error: unknown) => {
    fault ??= error;
    for (const source of sources) source.stop();
  };
  const joint = sources.length > 1 ? new JointRecording(recordings) : undefined;
  const flush = async () => {
    await joint?.write(clock.steady());
    await recordings.flush(clock.steady());
  };
  const flushing = setInterval(() => {
    const frames = sayCount(framesOf(sources), "frame");
    terminal.status(`${frames} · ${recordings.files.at(-1) ?? "no file yet"}`);
    if (sources.some(({ live }) => live)) flush().catch(stopFor);
  }, joint === undefined ? FLUSH_EVERY_MS : FLUSH_SEVERAL_EVERY_MS);
  const early: string[] = [];
  const follow = async (source: FrameSource) => {
    try {
      for await (const batch of source.batches()) {
        const arrival = source.live ? clock.steady() : undefined;
        if (joint === undefined) await recordings.take(batch, arrival);
        else await joint.take(source, batch, clock.steady());
      }
    } catch (error) {
      if (error instanceof SourceEndedEarly) early.push(error.message);
      else stopFor(error);
    }
  };
  try {
    await Promise.all(sources.map(follow));
    await joint?.end(clock.steady());
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

function framesOf(sources: readonly FrameSource[]): number {
  return sources.reduce((sum, { counts }) => sum + counts.frames, 0);
}

function sayCount(count: number, one: string): string {
  return `${count.toLocaleString("en")} ${one}${count === 1 ? "" : "s"}`;
}
