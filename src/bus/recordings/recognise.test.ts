import { describe, expect, test } from "vitest";
import { beginning, recognise } from "./recognise.ts";

const bytes = (text: string) => new TextEncoder().encode(text);

describe("a recording is known by its content", () => {
  test.each<[string, Uint8Array]>([
    ["candump", bytes("(1538388000.035000) can0 0CF00400#F0FF000000FFFFFF\n")],
    ["candump", bytes("\r\n\n(1.5)   vcan0 123##0\r\n")],
    ["candump", bytes("00F0FF\n(1538388000.035000) can0 0CF00400#F0\n")],
    ["pcap", new Uint8Array([0xd4, 0xc3, 0xb2, 0xa1])],
    ["pcap", new Uint8Array([0xa1, 0xb2, 0x3c, 0x4d])],
    ["pcapng", new Uint8Array([0x0a, 0x0d, 0x0d, 0x0a, 0, 0, 0, 28])],
  ])("as %s", (kind, head) => {
    expect(recognise(head)).toBe(kind);
  });

  test.each([
    ["", "it is empty"],
    ["\n\nDear all,\nplease", 'it begins with "Dear all,"'],
    ["boat: hazel-comfort\n", 'it begins with "boat: hazel-comfort"'],
    ["  can0  123   [2]  11 22\n", 'it begins with "  can0  123   [2]  11 22"'],
    ["\x89PNG\r\n\x1a\n", "it begins with the bytes C2 89 50 4E 47 0D 0A 1A 0A"],
  ])("or is none: %j", (text, clause) => {
    expect(recognise(bytes(text))).toBeUndefined();
    expect(beginning(bytes(text))).toBe(clause);
  });
});
