import { BusNames } from "../../src/bus/bus-names.ts";
import { FRAME_BYTES, FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import type { ByteStream } from "../../src/bus/parsed-source.ts";

/** A frame as an object, for tests only. */
export interface Frame {
  /** Microseconds. */
  readonly time: number;
  readonly bus: string;
  readonly flags: number;
  readonly identifier: number;
  readonly length: number;
  /** Empty for remote and FD frames. */
  readonly data: readonly number[];
}

/** Copies of the frames in a batch. */
export function framesIn(batch: FrameBatch, buses: BusNames): Frame[] {
  return Array.from({ length: batch.count }, (_, index) => {
    const flags = batch.flags[index];
    const length = batch.lengths[index];
    const from = index * FRAME_BYTES;
    return {
      time: batch.times[index],
      bus: buses.nameOf(batch.buses[index]),
      flags,
      identifier: batch.identifiers[index],
      length,
      data: (flags & FrameFlag.remote) === 0 ? [...batch.data.subarray(from, from + length)] : [],
    };
  });
}

/**
 * All frames of a source, and the error that it ended with, if it did. A source that never ends is
 * stopped once `most` frames have come.
 */
export async function readAll(
  source: FrameSource,
  buses: BusNames,
  most = Infinity,
): Promise<{ frames: Frame[]; error: unknown }> {
  const frames: Frame[] = [];
  try {
    for await (const batch of source.batches()) {
      frames.push(...framesIn(batch, buses));
      if (frames.length >= most) source.stop();
    }
  } catch (error) {
    return { frames, error };
  }
  return { frames, error: undefined };
}

export function batchOf(frames: readonly Frame[], buses: BusNames): FrameBatch {
  const batch = new FrameBatch(frames.length);
  for (const [index, frame] of frames.entries()) {
    batch.times[index] = frame.time;
    batch.buses[index] = buses.numberOf(frame.bus);
    batch.flags[index] = frame.flags;
    batch.identifiers[index] = frame.identifier;
    batch.lengths[index] = frame.length;
    batch.data.set(frame.data, index * FRAME_BYTES);
  }
  batch.count = frames.length;
  return batch;
}

/** Bytes that come in pieces of the given sizes, again and again. */
export function bytesInPieces(bytes: Uint8Array, sizes: readonly number[] = [65_536]): ByteStream {
  let closed = false;
  async function* pieces(): AsyncGenerator<Uint8Array> {
    for (let at = 0, turn = 0; at < bytes.length && !closed; turn++) {
      const size = sizes[turn % sizes.length];
      yield bytes.subarray(at, at + size);
      at += size;
    }
  }
  return { pieces, close: () => closed = true };
}

export function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
