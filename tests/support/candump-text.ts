import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameSource } from "../../src/bus/frame-source.ts";
import { recordingSource } from "../../src/bus/recordings/recording-source.ts";
import { bytesInPieces, type Frame, readAll } from "./frames.ts";

/** What a recording of this text gives. */
export async function readCandump(
  text: string | Uint8Array,
  sizes?: readonly number[],
): Promise<{ frames: Frame[]; error: unknown; source: FrameSource }> {
  const buses = new BusNames();
  const bytes = typeof text === "string" ? new TextEncoder().encode(text) : text;
  const stream = bytesInPieces(bytes, sizes);
  const source = recordingSource({ title: "voyage.log", kind: "candump", bytes: stream, buses });
  return { ...await readAll(source, buses), source };
}
