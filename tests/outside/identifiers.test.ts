import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  destinationOf,
  EVERYBODY,
  identifierOf,
  pgnOf,
  priorityOf,
  sourceOf,
} from "../../src/nmea2000/identifier.ts";
import { nameFrom, namePartsOf } from "../../src/nmea2000/name.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { pcapOf } from "../support/identifier-pcap.ts";
import { toolIsInstalled } from "../support/installed-tool.ts";

/** Identifier, priority, PGN, source, destination. */
type Listed = readonly [number, number, number, number, number];

const LISTED: readonly Listed[] = [
  // scapy, test/contrib/j1939.uts
  [0x18fef100, 6, 65265, 0, EVERYBODY],
  [0x18feca00, 6, 65226, 0, EVERYBODY],
  [0x0cec000b, 3, 60416, 11, 0],
  [0x18ea00ff, 6, 59904, 255, 0],
  [0x18ef4200, 6, 0xef00, 0, 0x42],
  // a public list of J1939 identifiers, gist 4f8ef5febcb7564274f77c49ccbc0ffb
  [0x18f0010b, 6, 61441, 11, EVERYBODY],
  [0x0c820e0f, 3, 33280, 15, 14],
  // cantools, tests/test_database.py
  [0x14123456, 5, 4608, 0x56, 0x34],
  [0x1fffffff, 7, 0x3ffff, 0xff, EVERYBODY],
  // the same, PGNs put together from their parts: data page 1 with EF, page 0 with F0 and 34
  [0x19ef0005, 6, 0x1ef00, 5, 0],
  [0x18f03405, 6, 0xf034, 5, EVERYBODY],
  // tshark 4.0.17; the data page is 1
  [0x09f20005, 2, 127488, 5, EVERYBODY],
  [0x09f20105, 2, 127489, 5, EVERYBODY],
  [0x19f21123, 6, 127505, 35, EVERYBODY],
  [0x19f21405, 6, 127508, 5, EVERYBODY],
  [0x15fd0823, 5, 130312, 35, EVERYBODY],
  [0x09f80103, 2, 129025, 3, EVERYBODY],
  [0x19f10d02, 6, 127245, 2, EVERYBODY],
];

function partsOf(identifier: number): Listed {
  return [
    identifier,
    priorityOf(identifier),
    pgnOf(identifier),
    sourceOf(identifier),
    destinationOf(identifier),
  ];
}

describe("identifiers that are listed elsewhere", () => {
  test.each(LISTED)("%i", (...listed) => {
    expect(partsOf(listed[0])).toEqual(listed);
  });
});

describe.skipIf(!toolIsInstalled("tshark"))("tshark's J1939 dissector", () => {
  test("reads listed, random and our own identifiers as we do", async () => {
    const random = fc.sample(fc.nat(0x1fffffff), { numRuns: 2000, seed: 127488 });
    const own = ALL_ROWS.map(({ pgn, priority = 6 }, i) =>
      identifierOf({ priority, pgn, source: i })
    );
    const identifiers = [...LISTED.map(([identifier]) => identifier), ...random, ...own];
    const theirs = await dissect(identifiers);
    expect(theirs).toHaveLength(identifiers.length);
    expect(theirs).toEqual(identifiers.map(partsOf));
  });
});

/** What tshark says of each identifier, as `partsOf` does; it leaves out "everybody". */
async function dissect(identifiers: readonly number[]): Promise<Listed[]> {
  const file = await Deno.makeTempFile({ suffix: ".pcap" });
  try {
    await Deno.writeFile(file, pcapOf(identifiers));
    const fields = ["priority", "pgn", "src_addr", "dst_addr"].flatMap((name) => [
      "-e",
      `j1939.${name}`,
    ]);
    const { code, stdout, stderr } = await new Deno.Command("tshark", {
      args: ["-r", file, "-d", "can.subdissector,j1939", "-T", "fields", ...fields],
    }).output();
    if (code !== 0) throw new Error(new TextDecoder().decode(stderr));
    return new TextDecoder().decode(stdout).split("\n").slice(0, -1).map((line, i) => {
      const [priority, pgn, source, destination] = line.split("\t");
      const to = destination === "" ? EVERYBODY : Number(destination);
      return [identifiers[i], Number(priority), Number(pgn), Number(source), to];
    });
  } finally {
    await Deno.remove(file);
  }
}

// Bits as in linux/can/j1939.h. The first four claims and what they say: AddressClaimPacketTest of
// the MIT-licensed test suite "j1939-84"; the last was sent by the tractor of TractorHacking/CAN-data.
test.each([
  ["10f7450100450001", 390928, 10, 69, 0, 1, 0],
  ["0000400500006514", 0, 42, 0, 50, 4, 1],
  ["4347600500130000", 18243, 43, 19, 0, 0, 0],
  ["0000e0ff00820000", 0, 2047, 130, 0, 0, 0],
  ["4d74300400340220", 1078349, 33, 52, 1, 0, 2],
])("the NAME claimed with %s has the parts that others read in it", (...claim) => {
  const [bytes, identityNumber, manufacturerCode, function_, class_, systemInstance, group] = claim;
  expect(namePartsOf(nameFrom(bytesOf(bytes), 0))).toMatchObject({
    identityNumber,
    manufacturerCode,
    function: function_,
    class: class_,
    systemInstance,
    industryGroup: group,
    arbitraryAddress: false,
  });
});

function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from(hex.match(/../g) ?? [], (pair) => parseInt(pair, 16));
}
