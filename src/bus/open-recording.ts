import { basename } from "node:path";
import type { BusNames } from "./bus-names.ts";
import { fileBytes } from "./input-bytes.ts";
import { CannotOpenInput } from "./cannot-open-input.ts";
import { type FrameSource, SourceEndedEarly } from "./frame-source.ts";
import {
  A_RECORDING,
  beginning,
  recognise,
  RECOGNISED_BY,
  type RecordingKind,
} from "./recordings/recognise.ts";
import { recordingSource, unpacked } from "./recordings/recording-source.ts";
import { SourceTally } from "./source-tally.ts";

export interface OpenRecordingOptions {
  readonly buses: BusNames;
  /** The name that the person gave the bus in this recording. */
  readonly bus?: string;
  readonly batchSize?: number;
}

/**
 * The frames of one recorded file, of the kind that its content shows. An edge: it reads the disk.
 * Where the person said a kind, content of another kind is refused; candump lines are taken at
 * their word, since any line may be damaged.
 * @throws {CannotOpenInput}
 */
export async function openRecording(
  file: string,
  options: OpenRecordingOptions,
  said?: RecordingKind,
): Promise<FrameSource> {
  const look = await lookAt(file);
  const kind = look.kind ?? (said === "candump" ? said : undefined);
  if (kind !== undefined && (said ?? kind) === kind) return openKnown(file, kind, options);
  const not = said === undefined ? "no recording" : `no ${said} recording`;
  const expected = said === undefined ? A_RECORDING : A_KIND[said];
  throw new CannotOpenInput(`${file} is ${not}: ${look.begins}, expected ${expected}.`);
}

/** The same for a file whose kind cannot be looked at beforehand: a pipe gives its bytes once. */
export function openKnown(
  file: string,
  kind: RecordingKind,
  options: OpenRecordingOptions,
): FrameSource {
  return recordingSource({ title: basename(file), kind, bytes: fileBytes(file), ...options });
}

const A_KIND: Readonly<Record<RecordingKind, string>> = {
  candump: "candump lines such as (1538388000.035000) can0 0CF00400#F0FF000000FFFFFF",
  pcap: "a pcap capture",
  pcapng: "a pcapng capture",
};

/**
 * What a file is by its content, and a clause for how it begins.
 * @throws {CannotOpenInput} where it cannot be read
 */
export async function lookAt(
  file: string,
): Promise<{ readonly kind: RecordingKind | undefined; readonly begins: string }> {
  const { head, damage } = await headOf(file);
  const begins = head.length === 0 && damage !== undefined ? `it ${damage}` : beginning(head);
  return { kind: recognise(head), begins };
}

/** The first (unpacked) bytes of a file, as many as can be read, and a clause why no more can. */
async function headOf(file: string): Promise<{ head: Uint8Array; damage?: string }> {
  const head = new Uint8Array(RECOGNISED_BY);
  let length = 0;
  try {
    for await (const piece of unpacked(fileBytes(file), new SourceTally())) {
      const part = piece.subarray(0, head.length - length);
      head.set(part, length);
      length += part.length;
      if (length === head.length) break;
    }
  } catch (error) {
    if (!(error instanceof SourceEndedEarly)) throw error;
    return { head: head.subarray(0, length), damage: error.message };
  }
  return { head: head.subarray(0, length) };
}
