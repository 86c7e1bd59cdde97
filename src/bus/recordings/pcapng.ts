import type { Micros } from "../../ground/time.ts";
import type { FrameBatch } from "../frame-batch.ts";
import type { FrameParser } from "../frame-parser.ts";
import type { InterfaceNames } from "../interface-names.ts";
import { hexadecimal } from "../printable.ts";
import type { SourceTally } from "../source-tally.ts";
import { captureMicros } from "./capture-time.ts";
import { type CapturedInterface, readInterface } from "./pcapng-interface.ts";
import { RecordBuffer } from "./record-buffer.ts";
import { addCapturedFrame, carriesFrames, KEPT_PACKET, OTHER_PROTOCOL } from "./captured-frame.ts";

/** Block types; the first reads the same in either byte order. */
const SECTION = 0x0a0d0d0a;
const INTERFACE = 1;
const ENHANCED_PACKET = 6;
const BYTE_ORDER_MAGIC = 0x1a2b3c4d;

const BLOCK_HEADER = 8;
const PACKET_HEADER = 28;
const LONGEST_BLOCK = 16 * 1024 * 1024;
/** Enough for the name and the clock of an interface. */
const KEPT_BLOCK = 2048;
const MOST_INTERFACES = 256;

/** True where these are the first bytes of a pcapng file. */
export function isPcapng(head: Uint8Array): boolean {
  return head.length >= 4 && new DataView(head.buffer, head.byteOffset).getUint32(0) === SECTION;
}

/**
 * Captures in the pcapng format (draft-ietf-opsawg-pcapng): frames in enhanced packet blocks; a
 * simple packet has no time, and it and blocks of other types are passed over.
 */
export class PcapngBlocks implements FrameParser {
  readonly #names: InterfaceNames;
  readonly #tally: SourceTally;
  readonly #block = new RecordBuffer(KEPT_BLOCK);
  #part: "header" | "section-order" | "body" = "header";
  #littleEndian = true;
  #interfaces: CapturedInterface[] = [];
  /** Whole blocks read so far. */
  #number = 0;
  #lost: string | undefined;

  constructor(names: InterfaceNames, tally: SourceTally) {
    this.#names = names;
    this.#tally = tally;
    this.#block.begin(BLOCK_HEADER);
  }

  parse(bytes: Uint8Array, from: number, batch: FrameBatch): number {
    let at = from;
    while (!batch.full) {
      at = this.#block.take(bytes, at);
      if (!this.#block.complete) break;
      if (this.#part === "header") this.#readHeader();
      else if (this.#part === "section-order") this.#readOrder();
      else this.#readBody(batch);
    }
    return at;
  }

  end(): string | undefined {
    if (this.#lost !== undefined) return this.#lost;
    if (this.#part === "header" && this.#block.kept === 0 && this.#number > 0) return undefined;
    return `ends in the middle of block ${this.#number + 1}`;
  }

  #word(at: number): number {
    return this.#block.view.getUint32(at, this.#littleEndian);
  }

  #readHeader(): void {
    if (this.#word(0) === SECTION) {
      this.#part = "section-order";
      this.#block.extend(BLOCK_HEADER + 4, 0);
    } else if (this.#number === 0) {
      this.#giveUp("does not begin as a pcapng file does");
    } else {
      this.#expectBody();
    }
  }

  /** The order of a section's numbers, its length included, is known only from its magic. */
  #readOrder(): void {
    this.#littleEndian = this.#block.view.getUint32(BLOCK_HEADER, true) === BYTE_ORDER_MAGIC;
    if (this.#word(BLOCK_HEADER) === BYTE_ORDER_MAGIC) this.#expectBody();
    else this.#giveUp(`is damaged: block ${this.#number + 1} has no byte order`);
  }

  #expectBody(): void {
    const length = this.#word(4);
    if (length < this.#block.kept + 4 || length > LONGEST_BLOCK || length % 4 !== 0) {
      return this.#giveUp(`is damaged: block ${this.#number + 1} says it has ${length} bytes`);
    }
    const wanted = this.#word(0) === ENHANCED_PACKET ? PACKET_HEADER + KEPT_PACKET : KEPT_BLOCK;
    const kept = Math.min(length, wanted);
    this.#part = "body";
    this.#block.extend(kept, length - kept);
  }

  #readBody(batch: FrameBatch): void {
    this.#number++;
    const type = this.#word(0);
    if (type === SECTION) this.#interfaces = [];
    else if (type === INTERFACE) this.#addInterface();
    else if (type === ENHANCED_PACKET) this.#readPacket(batch);
    this.#part = "header";
    this.#block.begin(BLOCK_HEADER);
  }

  #addInterface(): void {
    if (this.#interfaces.length === MOST_INTERFACES) {
      return this.#malformed(`at most ${MOST_INTERFACES} interfaces`);
    }
    const { bytes, view, kept } = this.#block;
    const unnamed = `can${this.#interfaces.length}`;
    const described = readInterface(bytes, view, kept, this.#littleEndian, unnamed, this.#names);
    this.#interfaces.push(described);
  }

  #readPacket(batch: FrameBatch): void {
    if (this.#word(4) < PACKET_HEADER + 4) return this.#malformed("an enhanced packet");
    const link = this.#interfaces[this.#word(8)];
    if (link === undefined) return this.#malformed("a packet of an interface described before it");
    // A capture of a network card beside a bus.
    const isOther = !carriesFrames(link.linkType);
    if (isOther && this.#interfaces.some(({ linkType }) => carriesFrames(linkType))) return;
    const time: Micros = link.offset +
      captureMicros(this.#word(12), this.#word(16), link.resolution);
    if (!Number.isSafeInteger(time)) return this.#malformed("a time that a clock can show");
    const length = this.#word(20);
    if (length > this.#word(4) - PACKET_HEADER - 4) {
      return this.#malformed("a packet that fits in its block");
    }
    const kept = Math.min(length, KEPT_PACKET);
    const count = batch.count;
    const expected = addCapturedFrame(this.#block.view, PACKET_HEADER, kept, link, time, batch);
    if (batch.count > count) this.#tally.frame(batch, count);
    if (expected !== undefined && expected !== OTHER_PROTOCOL) this.#malformed(expected);
  }

  #malformed(expected: string): void {
    const found = hexadecimal(this.#block.bytes.subarray(BLOCK_HEADER, this.#block.kept));
    this.#tally.malformed({ at: this.#number, found, expected });
  }

  /** Without the length of a block nothing after it can be found. */
  #giveUp(why: string): void {
    this.#lost = why;
    this.#block.extend(this.#block.kept, Infinity);
  }
}
