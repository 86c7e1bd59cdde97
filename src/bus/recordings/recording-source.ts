import type { BusNames } from "../bus-names.ts";
import { ByteReader } from "../byte-reader.ts";
import type { FrameParser } from "../frame-parser.ts";
import type { FrameSource } from "../frame-source.ts";
import { InterfaceNames } from "../interface-names.ts";
import { type ByteStream, ParsedSource } from "../parsed-source.ts";
import type { SourceEvent } from "../source-event.ts";
import { SourceTally } from "../source-tally.ts";
import { CandumpLines } from "./candump-lines.ts";
import { gunzipped, isGzip } from "./gunzip.ts";
import { PcapRecords } from "./pcap.ts";
import { PcapngBlocks } from "./pcapng.ts";
import type { RecordingKind } from "./recognise.ts";

export interface RecordingParts {
  readonly title: string;
  readonly kind: RecordingKind;
  /** Plain or packed with gzip: the first two bytes tell. */
  readonly bytes: ByteStream;
  readonly buses: BusNames;
  /** The name that the person gave this input's bus, instead of the interface's own. */
  readonly bus?: string;
  /** True for lines that come in as they are recorded. */
  readonly live?: boolean;
  /** Of such lines: told of what befalls them. */
  readonly told?: (event: SourceEvent) => void;
  readonly batchSize?: number;
}

/** A source of the frames in bytes of a known kind. */
export function recordingSource(parts: RecordingParts): FrameSource {
  const tally = new SourceTally(parts.told);
  const names = new InterfaceNames(parts.buses, parts.bus);
  const { bytes } = parts;
  return new ParsedSource({
    title: parts.title,
    live: parts.live ?? false,
    bytes: {
      pieces: () => unpacked(bytes, tally),
      close: () => bytes.close(),
      get taken() {
        return bytes.taken;
      },
    },
    parser: parserOf(parts.kind, names, tally),
    tally,
    batchSize: parts.batchSize,
  });
}

function parserOf(kind: RecordingKind, names: InterfaceNames, tally: SourceTally): FrameParser {
  switch (kind) {
    case "candump":
      return new CandumpLines(names, tally);
    case "pcap":
      return new PcapRecords(names, tally);
    case "pcapng":
      return new PcapngBlocks(names, tally);
  }
}

/** The bytes of a stream, unpacked if it is gzip. What follows the packed data is a problem. */
export async function* unpacked(bytes: ByteStream, tally: SourceTally): AsyncGenerator<Uint8Array> {
  const reader = new ByteReader(bytes.pieces());
  if (!isGzip(await reader.peek(2))) {
    yield* reader.rest();
    return;
  }
  yield* gunzipped(reader, (found) => {
    tally.malformed({ at: 0, found, expected: "nothing after the end of the packed data" });
  });
}
