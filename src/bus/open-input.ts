import { resolve } from "node:path";
import { openSocketcan } from "./adapters/socketcan/socketcan.ts";
import { busOfDevice } from "./adapters/slcan/bus-of-device.ts";
import { openSlcan } from "./adapters/slcan/slcan.ts";
import { openTcp } from "./adapters/tcp.ts";
import type { BusNames } from "./bus-names.ts";
import { cannotRead, streamBytes } from "./input-bytes.ts";
import { CannotOpenInput } from "./cannot-open-input.ts";
import type { FrameSource } from "./frame-source.ts";
import type { LiveParts } from "./live-parts.ts";
import { likelyLive, mistakeWords, parseInputText } from "./input-text.ts";
import { openFolder } from "./folder-recordings.ts";
import { openKnown, openRecording, type OpenRecordingOptions } from "./open-recording.ts";
import type { RecordingKind } from "./recordings/recognise.ts";
import { recordingSource } from "./recordings/recording-source.ts";

export interface OpenInputOptions {
  /** Shared by all inputs of a run. */
  readonly buses: BusNames;
  /** Relative places are resolved against this folder: the one in which the person typed. */
  readonly folder: string;
  readonly batchSize?: number;
  /** Plays a scenario, as the person wrote it; from `src/simulator/`, which this floor does not know. */
  readonly simulator?: (scenario: string, options: OpenRecordingOptions) => Promise<FrameSource>;
  /** How live adapters wait and try again: needs a clock, which only `src/commands/` has. */
  readonly live?: LiveParts;
  /** Bits a second of a bus, for adapters that must be told. */
  readonly bitRateOf?: (bus: string) => number | undefined;
}

/**
 * The frames of what a person named as INPUT. An edge: it opens files and standard input.
 * @throws {CannotOpenInput} with the sentence for that person
 */
export async function openInput(text: string, options: OpenInputOptions): Promise<FrameSource> {
  const input = parseInputText(text);
  if (input.kind === "mistake") throw new CannotOpenInput(mistakeWords(input));
  const { buses, batchSize, folder } = options;
  const shared: OpenRecordingOptions = { buses, batchSize, bus: input.bus };
  switch (input.kind) {
    case "standard-input":
      if (input.bus === undefined) buses.nameless++;
      return recordingSource({
        title: "standard input",
        kind: "candump",
        bytes: streamBytes(Deno.stdin.readable),
        live: true,
        told: options.live?.told,
        ...shared,
      });
    case "candump":
    case "pcap":
    case "pcapng":
      return await openPlace(resolve(folder, input.file), shared, input.kind);
    case "by-content":
      return await openPlace(
        resolve(folder, input.file),
        shared,
        undefined,
        likelyLive(input.file),
      );
    case "simulator":
      if (options.simulator === undefined) break;
      return await options.simulator(input.scenario, shared);
    case "tcp":
      if (options.live === undefined) break;
      return openTcp({ host: input.host, port: input.port, ...shared, ...options.live });
    case "socketcan":
      if (options.live === undefined) break;
      return openSocketcan({ interface: input.interface, ...shared, ...options.live });
    case "slcan":
      if (options.live === undefined) break;
      return openSlcan({
        device: resolve(folder, input.device),
        bitRate: options.bitRateOf?.(input.bus ?? busOfDevice(input.device)),
        ...shared,
        ...options.live,
      });
  }
  throw new CannotOpenInput(`${text}: ${input.kind} cannot be used here; a recording can.`);
}

async function openPlace(
  place: string,
  options: OpenRecordingOptions,
  said?: RecordingKind,
  meant?: string,
): Promise<FrameSource> {
  const info = await Deno.stat(place).catch((error) => {
    if (meant === undefined || !(error instanceof Deno.errors.NotFound)) {
      throw cannotRead(place, error);
    }
    throw new CannotOpenInput(`There is no file or folder ${place}; did you mean "${meant}"?`);
  });
  if (info.isDirectory) {
    if (said === undefined) return await openFolder(place, options);
    throw new CannotOpenInput(`${place} is a folder, expected a ${said} file.`);
  }
  if (info.isFile) return await openRecording(place, options, said);
  if (said !== undefined) return openKnown(place, said, options);
  throw new CannotOpenInput(
    `${place} is no ordinary file and can be read only once; say what it holds, as in ` +
      `${meant ?? `candump:${place}`}.`,
  );
}
