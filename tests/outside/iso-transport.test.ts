import { describe, expect, test } from "vitest";
import { MILLISECOND } from "../../src/ground/time.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { batchOfLines } from "../support/frame-lines.ts";

const columns = new Columns(ALL_ROWS);

function assemble(...lines: readonly string[]) {
  const assembler = new MessageAssembler(columns);
  const batch = batchOfLines(lines, 50 * MILLISECOND);
  const messages = [];
  for (let i = 0; i < batch.count; i++) {
    if (!assembler.accept(batch, i, batch.times[i])) continue;
    const { pgn, source, destination, bytes, start, length } = assembler;
    const hex = [...bytes.subarray(start, start + length)]
      .map((byte) => byte.toString(16).padStart(2, "0")).join(" ");
    messages.push({ pgn, source, destination, length, hex });
  }
  return { messages, lost: assembler.counts.lost, open: assembler.openSessions };
}

// The test suite of the MIT-licensed "j1939-84" project, J1939Test.
const BROADCAST = [
  "18ECFF00 20 28 00 06 FF EE FF 00",
  "18EBFF00 01 00 01 02 03 04 05 06",
  "18EBFF00 02 07 08 09 00 01 02 03",
  "18EBFF00 03 04 05 06 07 08 09 00",
  "18EBFF00 04 01 02 03 04 05 06 07",
  "18EBFF00 05 08 09 00 01 02 03 04",
  "18EBFF00 06 05 06 07 08 09 FF FF",
];
const BROADCAST_PAYLOAD = Array(4).fill("00 01 02 03 04 05 06 07 08 09").join(" ");

describe("a broadcast in packets, as printed in a published test suite", () => {
  test("arrives whole: PGN 0xFFEE, 40 bytes", () => {
    expect(assemble(...BROADCAST).messages).toEqual([
      { pgn: 0xffee, source: 0, destination: 255, length: 40, hex: BROADCAST_PAYLOAD },
    ]);
  });

  test("delivers nothing when it is aborted after three packets", () => {
    const abort = "18ECFF00 FF FF FF FF FF EE FF 00";
    const { messages, lost } = assemble(...BROADCAST.toSpliced(4, 0, abort));
    expect([messages, lost]).toEqual([[], 0]);
  });

  test.each([1, 2, 3, 4, 5])("delivers nothing when packet %i is missing", (packet) => {
    const { messages, lost } = assemble(...BROADCAST.toSpliced(packet, 1));
    expect([messages, lost]).toEqual([[], 1]);
  });
});

// TractorHacking/CAN-data (MIT), start1: the first broadcast of PGN 0xFEE3 and what it carried.
test("a tractor's broadcast of its engine's configuration has the bytes that were published", () => {
  const payload = "20 1c dd 68 42 dc a0 0f d5 8d 20 e3 7a 31 f1 c0 44 ff ff 04 01 20 4e 00 01 " +
    "fa c9 fa c0 5d 00 00 ff ff";
  const bytes = payload.split(" ");
  const packets = [0, 1, 2, 3, 4].map((packet) => {
    const part = bytes.slice(packet * 7, packet * 7 + 7);
    return `18EBFF00 0${packet + 1} ${[...part, ...Array(7 - part.length).fill("ff")].join(" ")}`;
  });
  const { messages } = assemble("18ECFF00 20 22 00 05 FF E3 FE 00", ...packets);
  expect(messages).toMatchObject([{ pgn: 0xfee3, length: 34, hex: payload }]);
});

// Control frames as printed in the same suite: 21 bytes of PGN 0xEA00 from 0 to 0xF9.
const REQUEST = "18ECF900 10 15 00 03 FF 00 EA 00";
const CLEAR = "18EC00F9 11 03 01 FF FF 00 EA 00";
const PACKETS = [
  "18EBF900 01 01 02 03 04 05 06 07",
  "18EBF900 02 08 09 0A 0B 0C 0D 0E",
  "18EBF900 03 0F 10 11 12 13 14 15",
];
const END = "18EC00F9 13 15 00 03 FF 00 EA 00";

describe("a connection between two others, overheard", () => {
  test("gives its message with its last packet", () => {
    expect(assemble(REQUEST, CLEAR, ...PACKETS, END)).toMatchObject({
      messages: [{ pgn: 0xea00, source: 0, destination: 0xf9, length: 21 }],
      lost: 0,
      open: 0,
    });
  });

  test("takes a packet that is asked for again", () => {
    const again = "18EC00F9 11 02 02 FF FF 00 EA 00";
    const lines = [REQUEST, CLEAR, PACKETS[0], PACKETS[2], again, PACKETS[1], PACKETS[2], END];
    expect(assemble(...lines)).toMatchObject({ messages: [{ length: 21 }], lost: 0 });
  });

  test("gives nothing when only we missed a packet", () => {
    const { messages, lost } = assemble(REQUEST, CLEAR, PACKETS[0], PACKETS[2], END);
    expect([messages, lost]).toEqual([[], 1]);
  });

  test("gives nothing when either side aborts", () => {
    for (const abort of ["18EC00F9 FF 03 FF FF FF 00 EA 00", "18ECF900 FF 03 FF FF FF 00 EA 00"]) {
      expect(assemble(REQUEST, CLEAR, PACKETS[0], abort, ...PACKETS.slice(1)))
        .toMatchObject({ messages: [], lost: 0, open: 0 });
    }
  });
});

// From the same suite: a vehicle identification in a broadcast of 50 bytes, padded with ones.
test("a broadcast of text arrives as it was written", () => {
  const text = "Some VINs are garbage, but this test doesn't care.";
  expect(text).toHaveLength(50);
  const bytes = [...text].map((letter) => letter.charCodeAt(0).toString(16));
  const packets = Array.from({ length: 8 }, (_, packet) => {
    const part = bytes.slice(packet * 7, packet * 7 + 7);
    return `18EBFF00 0${packet + 1} ${[...part, ...Array(7 - part.length).fill("ff")].join(" ")}`;
  });
  expect(assemble("18ECFF00 20 32 00 08 FF EC FE 00", ...packets).messages)
    .toEqual([{ pgn: 0xfeec, source: 0, destination: 255, length: 50, hex: bytes.join(" ") }]);
});

// python-can, test/data/logfile.asc: packets 1 to 4 and the analyser's own 24 bytes of 35; the control
// frame and what the print leaves out are made to fit.
test("a broadcast in an analyser's log comes out as the analyser printed it", () => {
  const printed = "a0 0f a6 60 3b d1 40 1f de 80 25 df c0 2b e1 00 4b ff ff 3c 0f 00 4b ff".split(
    " ",
  );
  const packets = [0, 1, 2].map((packet) =>
    `18EBFF00 0${packet + 1} ${printed.slice(packet * 7, packet * 7 + 7).join(" ")}`
  );
  const rest = ["18EBFF00 04 00 4B FF FF FF FF FF", "18EBFF00 05 FF FF FF FF FF FF FF"];
  const { messages } = assemble("18ECFF00 20 23 00 05 FF E3 FE 00", ...packets, ...rest);
  expect(messages).toMatchObject([{ pgn: 0xfee3, length: 35 }]);
  expect(messages[0].hex.startsWith(printed.join(" "))).toBe(true);
});

test("broadcasts of several senders at once stay apart", () => {
  const ofSender = (line: string, sender: number) => line.replace(/00 /, `0${sender} `);
  const lines = BROADCAST.flatMap((line) => [1, 2, 3, 4, 5].map((s) => ofSender(line, s)));
  const { messages, lost } = assemble(...lines);
  expect(messages.map(({ source, hex }) => [source, hex]))
    .toEqual([1, 2, 3, 4, 5].map((sender) => [sender, BROADCAST_PAYLOAD]));
  expect(lost).toBe(0);
});

// The same suite, feebBamTest: a real bus on which five controllers answer one request at once, PGN
// 65259. One of them lacks its last packet; two are asked again and announce anew.
test("of five controllers on a real bus, the four that end come out, each with its own bytes", () => {
  const packets = (sender: string, priority: string, ...parts: readonly string[]) =>
    parts.map((part, i) => `${priority}EBFF${sender} 0${i + 1} ${part}`);
  const a = packets(
    ...[
      "00",
      "1C",
      "43 4D 4D 4E 53 2A 36",
      "4C 20 75 32 31 44 30",
      "38 39 30 30 30 30 30",
    ] as const,
    ...["30 30 2A 37 34 36 30", "37 31 39 31 2A 2A 2A", "2A 2A 2A 2A 2A 2A 2A"],
    "2A 2A FF FF FF FF FF",
  );
  const b = packets(
    ...["0B", "1C", "42 4E 44 57 53 2A 45", "43 38 30 45 53 50 20"] as const,
    ...["2A 30 30 30 30 30 30", "30 30 30 30 2A 2A FF"],
  );
  const c = packets(
    ...["2A", "18", "42 4E 44 57 53 2A 46", "4C 52 32 31 2A 31 37"] as const,
    ...["32 32 30 32 33 31 34", "2A 2A FF FF FF FF FF"],
  );
  const d = packets(
    ...["03", "18", "41 4C 4C 53 4E 2A 33", "30 30 30 20 50 54 53"] as const,
    "2A 2A 2A FF FF FF FF",
  );
  const e = packets(
    ...[
      "8C",
      "1C",
      "45 41 54 4F 4E 2A 56",
      "53 34 30 30 44 49 55",
      "2A 31 33 35 34 39 35",
    ] as const,
  );
  const announced = ["20 1B 00 04", "20 2C 00 07", "20 17 00 04", "20 19 00 04", "20 11 00 03"];
  const [ofB, ofA, ofC, ofE, ofD] = ["1CECFF0B", "1CECFF00", "18ECFF2A", "1CECFF8C", "18ECFF03"]
    .map((identifier, i) => `${identifier} ${announced[i]} FF EB FE 00`);
  const { messages, lost } = assemble(
    ...[ofB, ofA, ofC, ofE, ofD, a[0], b[0], c[0], d[0], a[1], e[0], b[1], d[1], c[1], a[2], b[2]],
    ...[d[2], a[3], e[1], c[2], b[3], a[4], ofD, c[3], ofB, e[2], a[5], d[0], b[0], a[6]],
  );
  const whole = (lines: readonly string[], length: number) =>
    lines.flatMap((line) => line.toLowerCase().split(" ").slice(2)).slice(0, length).join(" ");
  expect(messages.map(({ length, hex, pgn, source }) => [pgn, source, length, hex])).toEqual([
    [65259, 0x03, 17, whole(d, 17)],
    [65259, 0x0b, 27, whole(b, 27)],
    [65259, 0x2a, 23, whole(c, 23)],
    [65259, 0x00, 44, whole(a, 44)],
  ]);
  expect(lost).toBe(0);
});
