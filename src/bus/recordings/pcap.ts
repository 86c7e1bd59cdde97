import type { FrameBatch } from "../frame-batch.ts";
import type { FrameParser } from "../frame-parser.ts";
import type { InterfaceNames } from "../interface-names.ts";
import { hexadecimal } from "../printable.ts";
import type { SourceTally } from "../source-tally.ts";
import { RecordBuffer } from "./record-buffer.ts";
import {
  addCapturedFrame,
  type CapturedLink,
  KEPT_PACKET,
  OTHER_PROTOCOL,
} from "./captured-frame.ts";

/** The format has no interface names. */
const ONLY_INTERFACE = "can0";

const MICROSECONDS_MAGIC = 0xa1b2c3d4;
const NANOSECONDS_MAGIC = 0xa1b23c4d;
const FILE_HEADER = 24;
const RECORD_HEADER = 16;
/** The longest packet that capturing programs write; a longer one means that we lost the thread. */
const LONGEST_PACKET = 262_144;

/** True where these are the first bytes of a pcap file, in either byte order. */
export function isPcap(head: Uint8Array): boolean {
  return head.length >= 4 && magicOrder(new DataView(head.buffer, head.byteOffset)) !== undefined;
}

function magicOrder(view: DataView): { littleEndian: boolean; nanoseconds: boolean } | undefined {
  for (const littleEndian of [true, false]) {
    const magic = view.getUint32(0, littleEndian);
    if (magic === MICROSECONDS_MAGIC) return { littleEndian, nanoseconds: false };
    if (magic === NANOSECONDS_MAGIC) return { littleEndian, nanoseconds: true };
  }
  return undefined;
}

/** Captures in the pcap format (draft-ietf-opsawg-pcap), of link types 227, 113 and 276. */
export class PcapRecords implements FrameParser {
  readonly #names: InterfaceNames;
  readonly #tally: SourceTally;
  readonly #record = new RecordBuffer(RECORD_HEADER + KEPT_PACKET);
  #part: "file-header" | "record-header" | "packet" = "file-header";
  #link: CapturedLink = { linkType: 0, littleEndian: true, bus: "no-name" };
  #nanoseconds = false;
  #number = 0;
  #lost: string | undefined;

  constructor(names: InterfaceNames, tally: SourceTally) {
    this.#names = names;
    this.#tally = tally;
    this.#record.begin(FILE_HEADER);
  }

  parse(bytes: Uint8Array, from: number, batch: FrameBatch): number {
    let at = from;
    while (!batch.full) {
      at = this.#record.take(bytes, at);
      if (!this.#record.complete) break;
      if (this.#part === "file-header") this.#readFileHeader();
      else if (this.#part === "record-header") this.#readRecordHeader();
      else this.#readPacket(batch);
    }
    return at;
  }

  end(): string | undefined {
    if (this.#lost !== undefined) return this.#lost;
    if (this.#part === "file-header") return "ends in the middle of its header";
    if (this.#part === "record-header" && this.#record.kept === 0) return undefined;
    return `ends in the middle of record ${this.#number + 1}`;
  }

  #readFileHeader(): void {
    const view = this.#record.view;
    const order = magicOrder(view);
    if (order === undefined) return this.#giveUp("does not begin as a pcap file does");
    this.#nanoseconds = order.nanoseconds;
    this.#link = {
      // Only the lower half is the link type; the upper says whether checksums were kept.
      linkType: view.getUint32(20, order.littleEndian) & 0xffff,
      littleEndian: order.littleEndian,
      bus: this.#names.numberOfText(ONLY_INTERFACE),
    };
    this.#beginRecord();
  }

  #beginRecord(): void {
    this.#part = "record-header";
    this.#record.begin(RECORD_HEADER);
  }

  #readRecordHeader(): void {
    const length = this.#packetLength();
    if (length > LONGEST_PACKET) {
      return this.#giveUp(`is damaged: record ${this.#number + 1} says it has ${length} bytes`);
    }
    const kept = Math.min(length, KEPT_PACKET);
    this.#part = "packet";
    this.#record.extend(RECORD_HEADER + kept, length - kept);
  }

  #packetLength(): number {
    return this.#record.view.getUint32(8, this.#link.littleEndian);
  }

  #readPacket(batch: FrameBatch): void {
    this.#number++;
    const { view, bytes } = this.#record;
    const littleEndian = this.#link.littleEndian;
    const fraction = view.getUint32(4, littleEndian);
    const time = view.getUint32(0, littleEndian) * 1_000_000 +
      (this.#nanoseconds ? Math.floor(fraction / 1000) : fraction);
    const length = this.#record.kept - RECORD_HEADER;
    const count = batch.count;
    const expected = addCapturedFrame(view, RECORD_HEADER, length, this.#link, time, batch);
    if (batch.count > count) this.#tally.frame(batch, count);
    if (expected !== undefined && expected !== OTHER_PROTOCOL) {
      const found = hexadecimal(bytes.subarray(RECORD_HEADER, RECORD_HEADER + length));
      this.#tally.malformed({ at: this.#number, found, expected });
    }
    this.#beginRecord();
  }

  /** Without the length of a record nothing after it can be found. */
  #giveUp(why: string): void {
    this.#lost = why;
    this.#record.extend(this.#record.kept, Infinity);
  }
}
