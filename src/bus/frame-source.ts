import type { Micros } from "../ground/time.ts";
import type { ErrorKind } from "./error-kinds.ts";
import type { FrameBatch } from "./frame-batch.ts";

/** What a source has met so far; intended drops (`fd`, `standard`) differ from losses. */
export interface SourceCounts {
  /** Every well-formed frame, whatever its kind. */
  frames: number;
  /** 11-bit identifiers: delivered with their flag clear; NMEA 2000 and J1939 ignore them. */
  standard: number;
  remote: number;
  error: number;
  /** Error frames by what they report; one may report several kinds, or none that is known. */
  errorKinds: Partial<Record<ErrorKind, number>>;
  fd: number;
  malformed: number;
  /** Frames that the operating system or adapter says were dropped before we saw them. */
  dropped: number;
  /** How often the clock that stamped a recording was found to jump forward while the bus went on. */
  clockJumps: number;
  /** By how much in all. */
  clockJumpedBy: Micros;
}

/** One malformed line or record; sources keep the first twenty and count the rest. */
export interface SourceProblem {
  /** Line number (text) or record number (binary), from 1; 0: the recording as a whole. */
  readonly at: number;
  readonly found: string;
  readonly expected: string;
  /** The recording's title, where a source has several. */
  readonly recording?: string;
}

/**
 * Frames in, from a live adapter or a recording: the same to everything downstream.
 * `batches` yields the same `FrameBatch` object again and again. Text and binary readers never
 * throw for bad content: they count it. They throw `SourceEndedEarly` after the last readable
 * frame where a recording is cut off.
 */
export interface FrameSource {
  /** As a person would say it: "start1.log.gz", "standard input", "can0". */
  readonly title: string;
  /** A live source has no end and its frames are stamped as they arrive. */
  readonly live: boolean;
  /** No boat is heard: the frames are made up as they are read. */
  readonly madeUp?: boolean;
  /** Live sources: a frame is handed on at most about so long after its stamp. */
  readonly lateness?: Micros;
  /** Live sources: stamps are of this computer's own clock, so its time goes on before any frame. */
  readonly stampedHere?: boolean;
  /** Live sources: whether frames have come that we did not read yet; absent: nobody can tell. */
  readonly hasWaiting?: boolean;
  readonly counts: SourceCounts;
  readonly problems: readonly SourceProblem[];
  /** Recordings: how many bytes of the file were read so far. */
  readonly bytesTaken?: number;
  batches(): AsyncIterable<FrameBatch>;
  /** Ends `batches` soon; harmless if called twice. */
  stop(): void;
}

/**
 * A recording that ends in the middle (a truncated gzip), or is damaged beyond a point: everything
 * before was delivered. The message is a sentence without its full stop: "start1.log.gz is cut off".
 */
export class SourceEndedEarly extends Error {
  override readonly name = "SourceEndedEarly";
}

export function emptyCounts(): SourceCounts {
  return {
    frames: 0,
    standard: 0,
    remote: 0,
    error: 0,
    errorKinds: {},
    fd: 0,
    malformed: 0,
    dropped: 0,
    clockJumps: 0,
    clockJumpedBy: 0,
  };
}
