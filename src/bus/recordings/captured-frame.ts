import type { Micros } from "../../ground/time.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../frame-batch.ts";
import { flagsOfWord, identifierOfWord } from "../identifier-word.ts";
import { EXPECTED_NAME, type NoBus } from "../interface-names.ts";

/** Link types of captures that hold CAN frames (tcpdump.org, "Link-layer header types"). */
export const LinkType = {
  /** Identifier in big-endian order, whatever the capture's own order. */
  socketCan: 227,
  /** Linux cooked: a header of 16 bytes, then the frame with its identifier in the host's order. */
  cooked: 113,
  /** Its second version, which tcpdump writes of all interfaces at once: a header of 20 bytes. */
  cookedAgain: 276,
} as const;

const EXPECTED_LINK_TYPE = "link type 227 (SocketCAN), 113 or 276 (Linux cooked)";

/** Where in a cooked packet its protocol stands, and where its frame begins. */
const COOKED: ReadonlyMap<number, { readonly protocol: number; readonly header: number }> = new Map(
  [
    [LinkType.cooked, { protocol: 14, header: 16 }],
    [LinkType.cookedAgain, { protocol: 0, header: 20 }],
  ],
);

/** A cooked header, a frame's own header and the longest data of CAN FD: nothing after it matters. */
export const KEPT_PACKET = 20 + 8 + 64;

const FRAME_HEADER = 8;
const FLEXIBLE_DATA = 64;
/** ETH_P_CAN and ETH_P_CANFD of Linux's `if_ether.h`. */
const PROTOCOL_CAN = 0x000c;
const PROTOCOL_FLEXIBLE = 0x000d;

/** CANFD_FDF, in the byte after the length. */
const FLEXIBLE_BIT = 0x04;

export function carriesFrames(linkType: number): boolean {
  return linkType === LinkType.socketCan || COOKED.has(linkType);
}

/** What a capture says of the interface that a packet came from. */
export interface CapturedLink {
  readonly linkType: number;
  /** Order of the capture's own numbers, which is that of the host that made it. */
  readonly littleEndian: boolean;
  /** Bus number, or why it has none. */
  readonly bus: number | NoBus;
}

/** A packet that is not a CAN frame at all, in a capture of several interfaces. */
export const OTHER_PROTOCOL = "";

/**
 * Adds the frame in one captured packet, the `length` bytes at `from`, to the batch. Returns
 * undefined if it was added, what was expected instead if it is malformed, or `OTHER_PROTOCOL`.
 */
export function addCapturedFrame(
  bytes: DataView,
  from: number,
  length: number,
  link: CapturedLink,
  time: Micros,
  batch: FrameBatch,
): string | undefined {
  if (!carriesFrames(link.linkType)) return EXPECTED_LINK_TYPE;
  const cooked = COOKED.get(link.linkType);
  let flexible = false;
  let at = from;
  if (cooked !== undefined) {
    at += cooked.header;
    if (length < cooked.header) return `a cooked header of ${cooked.header} bytes`;
    const protocol = bytes.getUint16(from + cooked.protocol);
    if (protocol !== PROTOCOL_CAN && protocol !== PROTOCOL_FLEXIBLE) return OTHER_PROTOCOL;
    flexible = protocol === PROTOCOL_FLEXIBLE;
  }
  const captured = from + length - at - FRAME_HEADER;
  if (captured < 0) return "a frame's header of 8 bytes";
  const word = bytes.getUint32(at, cooked !== undefined && link.littleEndian);
  const said = bytes.getUint8(at + 4);
  flexible ||= (bytes.getUint8(at + 5) & FLEXIBLE_BIT) !== 0 || captured === FLEXIBLE_DATA;
  if (said > (flexible ? FLEXIBLE_DATA : FRAME_BYTES)) {
    return "at most 8 data bytes, or 64 in CAN FD";
  }
  const flags = flagsOfWord(word) | (flexible ? FrameFlag.fd : 0);
  const remote = (flags & FrameFlag.remote) !== 0;
  if (!remote && captured < said) return "as many data bytes as the frame says";
  if (typeof link.bus === "string") return EXPECTED_NAME[link.bus];

  const index = batch.count++;
  const kept = flexible ? 0 : said;
  const data = index * FRAME_BYTES;
  for (let i = 0; !remote && i < kept; i++) {
    batch.data[data + i] = bytes.getUint8(at + FRAME_HEADER + i);
  }
  batch.times[index] = time;
  batch.buses[index] = link.bus;
  batch.flags[index] = flags;
  batch.identifiers[index] = identifierOfWord(word, flags);
  batch.lengths[index] = kept;
  return undefined;
}
