import fc from "fast-check";
import { expect, test } from "vitest";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { inside } from "../support/inside.ts";
import { ownFolder } from "../support/own-folder.ts";

/** Bytes at whose edges codes and signs change, and such as YAML has a meaning for. */
const EDGES = fc.constantFrom(0, 1, 2, 127, 128, 252, 253, 254, 255, 0x22, 0x23, 0x3a, 0x40, 0x7b);
const ANY_BYTE = fc.oneof({ weight: 3, arbitrary: EDGES }, fc.nat(255));

/** A message of a row that we read, with whatever in it; some end too early, some are too long. */
const ANY_MESSAGE = fc.record({
  row: fc.constantFrom(...ALL_ROWS),
  bus: fc.constantFrom("can0", "can0", "can1"),
  source: fc.constantFrom(0, 1, 7, 35, 254),
  bytes: fc.array(ANY_BYTE, { minLength: 1, maxLength: 140 }),
  sequence: fc.nat(7),
});

type AnyMessage = typeof ANY_MESSAGE extends fc.Arbitrary<infer Message> ? Message : never;

function linesOf({ bus, bytes, row, sequence, source }: AnyMessage, second: number): string[] {
  const { pgn, transport } = row;
  const addressed = ((pgn >> 8) & 0xff) < 240 ? pgn | 0xff : pgn;
  const identifier = (6 * 2 ** 26 + addressed * 256 + source).toString(16).padStart(8, "0");
  const frames = transport === "fast-packet" ? packets(bytes, sequence) : [bytes.slice(0, 8)];
  return frames.map((frame) => {
    const data = frame.map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return `(${1_781_431_200 + second}.000000) ${bus} ${identifier.toUpperCase()}#${data}`;
  });
}

/** Fast packets: six bytes in the first frame, seven in each that follows. */
function packets(bytes: readonly number[], sequence: number): number[][] {
  const frames = [[sequence << 5, bytes.length, ...bytes.slice(0, 6)]];
  for (let at = 6; at < bytes.length; at += 7) {
    frames.push([(sequence << 5) | frames.length, ...bytes.slice(at, at + 7)]);
  }
  return frames;
}

test("whatever a bus says, its survey drafts a boat file without a mistake, filled in too", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(ANY_MESSAGE, { minLength: 1, maxLength: 150 }), async (messages) => {
      const text = messages.flatMap((message, second) => linesOf(message, second)).join("\n");
      const folder = ownFolder({ "trip.log": `${text}\n` });
      const { out } = await inside(survey, ["trip.log", "--json"], folder);
      const { draft } = surveyReportSchema.parse(JSON.parse(out));
      expect(readBoatFile("draft.yaml", draft).problems).toEqual([]);
      const filledIn = draft.replaceAll(/^# ?(?=\s*[a-z0-9-]+: )|^#(?= +[a-z0-9-]+: )/gm, "")
        .replaceAll(/^# (?=[a-z-]+:$)/gm, "");
      expect(readBoatFile("draft.yaml", filledIn).problems).toEqual([]);
    }),
    { numRuns: 60 },
  );
});
