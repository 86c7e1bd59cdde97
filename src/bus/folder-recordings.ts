import { basename, join } from "node:path";
import type { Micros } from "../ground/time.ts";
import { BusNames } from "./bus-names.ts";
import { cannotRead } from "./input-bytes.ts";
import { CannotOpenInput } from "./cannot-open-input.ts";
import { type FrameSource, SourceEndedEarly, type SourceProblem } from "./frame-source.ts";
import { lookAt, openKnown, type OpenRecordingOptions } from "./open-recording.ts";
import type { RecordingKind } from "./recordings/recognise.ts";
import { SourceSequence } from "./source-sequence.ts";

/**
 * Files that lie beside recordings on purpose: expectations, notes, a rehearsal's report and memory.
 * Others are spoken of.
 */
const BESIDE = /^\.|\.(ya?ml|md|html|jsonl)$/i;

export interface FolderRecording {
  readonly file: string;
  readonly kind: RecordingKind;
  /** Time of the first frame; Infinity without one. */
  readonly begins: Micros;
}

/** What a folder holds. */
export interface FolderContent {
  /** By the time of their first frame, then by name. */
  readonly recordings: readonly FolderRecording[];
  /** Files that are no recordings. */
  readonly problems: readonly SourceProblem[];
}

/**
 * The recordings that lie in a folder, not in folders inside it. An edge: it reads the disk.
 * @throws {CannotOpenInput} where the folder cannot be read
 */
export async function folderRecordings(folder: string): Promise<FolderContent> {
  const recordings: FolderRecording[] = [];
  const problems: SourceProblem[] = [];
  for (const name of await fileNames(folder)) {
    const file = join(folder, name);
    try {
      const look = await lookAt(file);
      if (look.kind === undefined) {
        problems.push({ at: 0, found: look.begins, expected: "a recording", recording: name });
      } else {
        recordings.push({ file, kind: look.kind, begins: await firstTime(file, look.kind) });
      }
    } catch (error) {
      if (!(error instanceof CannotOpenInput)) throw error;
      problems.push({ at: 0, found: error.message, expected: "a recording", recording: name });
    }
  }
  recordings.sort((a, b) => a.begins === b.begins ? 0 : a.begins < b.begins ? -1 : 1);
  return { recordings, problems };
}

/**
 * A folder's recordings one after another in time order.
 * @throws {CannotOpenInput} where there are none
 */
export async function openFolder(
  folder: string,
  options: OpenRecordingOptions,
): Promise<FrameSource> {
  const { recordings, problems } = await folderRecordings(folder);
  if (recordings.length === 0) {
    throw new CannotOpenInput(`The folder ${folder} holds no recordings.`);
  }
  const sources = recordings.map(({ file, kind }) => openKnown(file, kind, options));
  return new SourceSequence(basename(folder), sources, problems);
}

async function fileNames(folder: string): Promise<string[]> {
  const names: string[] = [];
  try {
    for await (const entry of Deno.readDir(folder)) {
      if (!entry.isDirectory && !BESIDE.test(entry.name)) names.push(entry.name);
    }
  } catch (error) {
    throw cannotRead(folder, error);
  }
  return names.sort();
}

async function firstTime(file: string, kind: RecordingKind): Promise<Micros> {
  const source = openKnown(file, kind, { buses: new BusNames(), batchSize: 1 });
  try {
    for await (const batch of source.batches()) return batch.times[0];
  } catch (error) {
    if (!(error instanceof SourceEndedEarly)) throw error;
  }
  return Infinity;
}
