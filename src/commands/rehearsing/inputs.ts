import { join, resolve } from "node:path";
import { CannotOpenInput } from "../../bus/cannot-open-input.ts";
import { folderRecordings } from "../../bus/folder-recordings.ts";
import { parseInputText } from "../../bus/input-text.ts";
import { lookAt } from "../../bus/open-recording.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { Micros } from "../../ground/time.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { shortName } from "../command-line/text-file.ts";
import { expectationPlaces } from "./names-beside.ts";

/** What a rehearsal is to follow. */
export interface RehearsalInputs {
  readonly recordings: readonly RecordingInput[];
  /** Whole paths of synthetic cases. */
  readonly cases: readonly string[];
  /** What is no recording, a sentence each without its full stop. */
  readonly leftOut: readonly string[];
}

export interface RecordingInput {
  /** INPUT as `openSource` takes it. */
  readonly input: string;
  /** Whole path; undefined for what is no file. */
  readonly path: string | undefined;
  /** Bytes on the disk; 0 where that is not known. */
  readonly size: number;
  /** Time of its first frame; NaN where it was not looked for. */
  readonly begins: Micros;
}

const CASE = /\.case\.ya?ml$/i;
const EXPECTATIONS = /\.expect\.ya?ml$/i;
const WORD_BEFORE_YAML = /\.([^.]+)\.ya?ml$/i;
const HAVE_NO_END: readonly string[] = ["socketcan", "slcan", "tcp"];
/** Kinds that a person may write before the place. */
const KIND = /^(?:[^=:/]+=)?(?:candump|pcap|pcapng):/;

/**
 * The recordings and cases that the inputs name, each folder in place of it what lies in it. A file
 * that is no recording is left out where there are others, and so is a folder without any.
 * @throws {CommandFailure} for a live bus, for expectations without a recording, and where nothing is
 *   left
 */
export async function rehearsalInputs(
  inputs: readonly string[],
  folder: string,
): Promise<RehearsalInputs> {
  const recordings: RecordingInput[] = [];
  const cases: string[] = [];
  const leftOut: string[] = [];
  for (const input of inputs) {
    if (HAVE_NO_END.includes(parseInputText(input).kind)) {
      throw new CommandFailure(
        `rehearse needs a recording, and ${input} has no end; sternfast record makes one of it.`,
      );
    }
    const place = resolve(folder, input);
    const info = await Deno.stat(place).catch(() => undefined);
    if (info?.isDirectory === true) {
      const found = await folderInputs(place, folder);
      recordings.push(...found.recordings);
      cases.push(...found.cases);
      leftOut.push(...found.leftOut);
      continue;
    }
    if (CASE.test(input)) {
      cases.push(place);
      continue;
    }
    const other = inputs.length > 1 && info?.isFile === true ? await beginningOfOther(place) : null;
    if (other === null) recordings.push(await recordingInput(input, folder));
    else leftOut.push(`${shortName(place, folder)} is no recording: ${other}`);
  }
  if (recordings.length + cases.length === 0) {
    throw new CommandFailure(`${leftOut.join(". ")}. Nothing was rehearsed.`);
  }
  return { recordings, cases, leftOut };
}

/** How a file begins that is no recording; null for a recording. */
async function beginningOfOther(place: string): Promise<string | null> {
  const { kind, begins } = await lookAt(place).catch(refused);
  return kind === undefined ? begins : null;
}

function refused(error: unknown): never {
  throw error instanceof CannotOpenInput ? new CommandFailure(error.message) : error;
}

async function recordingInput(input: string, folder: string): Promise<RecordingInput> {
  const path = resolve(folder, input.replace(KIND, ""));
  const info = await Deno.stat(path).catch(() => undefined);
  return info?.isFile !== true
    ? { input, path: undefined, size: 0, begins: NaN }
    : { input, path, size: info.size, begins: NaN };
}

async function folderInputs(place: string, folder: string): Promise<RehearsalInputs> {
  const name = shortName(place, folder) || place;
  const { recordings: found, problems } = await folderRecordings(place).catch(refused);
  const leftOut = problems.map((problem) =>
    `${join(name, problem.recording ?? "")} is no recording: ${problem.found}`
  );
  const beside: string[] = [];
  const folders: string[] = [];
  for await (const { name, isDirectory } of Deno.readDir(place)) {
    (isDirectory ? folders : beside).push(join(place, name));
  }
  const cases = beside.filter((path) => CASE.test(path)).sort();
  const recordings = await Promise.all(found.map(async ({ file, kind, begins }) => ({
    input: `${kind}:${file}`,
    path: file,
    size: (await Deno.stat(file)).size,
    begins,
  })));
  if (recordings.length + cases.length === 0) {
    const inside = folders.length === 0
      ? ""
      : ` itself; name the folders in it, such as ${shortName(folders.sort()[0], folder)}`;
    leftOut.push(`The folder ${name} holds no recordings${inside}`);
  }
  const misspelt = beside.find((path) =>
    !EXPECTATIONS.test(path) &&
    nearestName(WORD_BEFORE_YAML.exec(path)?.[1] ?? "", ["expect"]) !== undefined
  );
  if (misspelt !== undefined) {
    throw new CommandFailure(
      `${shortName(misspelt, folder)}: expectations end in .expect.yaml; nothing was rehearsed.`,
    );
  }
  // What is no recording is spoken of already.
  const named = [
    ...found.map(({ file }) => file),
    ...problems.map(({ recording }) => join(place, recording ?? "")),
  ];
  const used = new Set(
    named.map((file) => expectationPlaces(file).find((path) => beside.includes(path))),
  );
  const orphans = beside.filter((path) => EXPECTATIONS.test(path) && !used.has(path))
    .map((path) => shortName(path, folder)).sort();
  if (orphans.length > 0) {
    throw new CommandFailure(
      `${orphans.join(", ")}: no recording of that name lies beside ` +
        `${orphans.length === 1 ? "it" : "them"}; nothing was rehearsed.`,
    );
  }
  return { recordings, cases, leftOut };
}

/**
 * How likely each recording begins a run: the time since the one before it began, by the bytes of
 * that one. A rotated recorder leaves the same everywhere; a night at the mooring stands out.
 */
export function gapsOf(recordings: readonly RecordingInput[]): number[] {
  return recordings.map(({ begins }, i) => {
    const before = recordings[i - 1];
    if (before === undefined || Number.isNaN(begins - before.begins)) return Infinity;
    return (begins - before.begins) / Math.max(1, before.size);
  });
}
