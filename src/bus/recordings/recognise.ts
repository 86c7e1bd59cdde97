import { hexadecimal, printable } from "../printable.ts";
import { isPcap } from "./pcap.ts";
import { isPcapng } from "./pcapng.ts";

/** Bytes from a recording's beginning that are enough to know it by. */
export const RECOGNISED_BY = 4096;

/** `(1538388000.035000) can0 0CF00400#`, as every line of `candump -L` begins. */
const CANDUMP_LINE = /^\(\d{1,10}\.\d{1,9}\) +[\x21-\x7e]{1,15} [0-9A-Fa-f]{3,8}#/;

/** What a recording looks like, for the sentence that says that a file is none. */
export const A_RECORDING =
  "candump lines such as (1538388000.035000) can0 0CF00400#F0FF000000FFFFFF, pcap or pcapng, each of them with or without gzip";

export type RecordingKind = "candump" | "pcap" | "pcapng";

/**
 * The kind of recording that begins with these (unpacked) bytes, or undefined: no recording. The
 * first line of candump text may be damaged, as long as one of the first looks right.
 */
export function recognise(head: Uint8Array): RecordingKind | undefined {
  if (isPcapng(head)) return "pcapng";
  if (isPcap(head)) return "pcap";
  return lines(head).some((line) => CANDUMP_LINE.test(line)) ? "candump" : undefined;
}

/** A clause for what a file begins with: `it begins with "Dear all"`. */
export function beginning(head: Uint8Array): string {
  if (head.length === 0) return "it is empty";
  const first = lines(head).find((line) => line !== "") ?? "";
  const isText = head.subarray(0, 60).every((byte) => byte >= 0x20 || isBlank(byte));
  return isText
    ? `it begins with "${printable(new TextEncoder().encode(first))}"`
    : `it begins with the bytes ${hexadecimal(head)}`;
}

function isBlank(byte: number): boolean {
  return byte === 0x0a || byte === 0x0d || byte === 0x09;
}

function lines(head: Uint8Array): string[] {
  return new TextDecoder().decode(head).split(/\r?\n/);
}
