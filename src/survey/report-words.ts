import { type Micros, SECOND } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";
import type { OwnersUnits } from "../units/units.ts";
import { busLines } from "./bus-words.ts";
import { deviceLines } from "./device-words.ts";
import { chapter, paragraph, sayCount } from "./paper.ts";
import type { SurveyReport } from "./report-schema.ts";
import { signalLines } from "./signal-words.ts";
import { troubleCodeLines } from "./trouble-code-words.ts";

export const HEADING = "Bus survey";
export const ENDING =
  "This tells what was said on the boat's bus while we listened. It is not a marine survey.";

export interface WordsSetup {
  readonly owners: OwnersUnits;
  /** What a comparison with an earlier survey found. */
  readonly against?: readonly string[];
  /** What was read was no live input. */
  readonly isRecorded?: boolean;
  /** Lines that came and are no frames. */
  readonly malformed?: number;
  /** The drafted boat file is written elsewhere. */
  readonly withoutDraft?: boolean;
}

/** A survey as a person reads or prints it, in lines of at most `PAPER_WIDTH` columns. */
export function reportWords(report: SurveyReport, setup: WordsSetup): string[] {
  const { owners, against = [] } = setup;
  if (report.begins === null) return [HEADING, "", ...nothingHeard(report, setup), "", ENDING];
  return [
    HEADING,
    "",
    ...headLines(report),
    ...against,
    ...troubleCodeLines(report),
    ...signalLines(report, owners),
    ...deviceLines(report),
    ...busLines(report),
    ...draftLines(report, setup),
    "",
    ENDING,
  ];
}

export function draftLines(
  { draft }: SurveyReport,
  { withoutDraft = false }: WordsSetup,
): string[] {
  return withoutDraft ? [] : chapter("A boat file to begin with", draft.trimEnd().split("\n"));
}

function headLines(report: SurveyReport): string[] {
  const { begins, boat, devices, frames, input, seconds, signals } = report;
  const length: Micros = seconds * SECOND;
  return [
    ...paragraph(`${boat}, ${input}: ${sayDuration(length)} from ${begins}.`),
    ...paragraph(
      `${sayCount(frames, "frame")}, ${sayCount(devices.length, "device")}, ` +
        `${sayCount(signals.length, "signal")}.`,
    ),
    ...report.buses.filter(({ advice }) => advice !== "").flatMap(({ bus }) =>
      paragraph(
        `The bus ${bus} itself is in trouble: look at its health, below, first. What is not heard ` +
          "or comes seldom may be its fault.",
      )
    ),
  ];
}

function nothingHeard(
  { input }: SurveyReport,
  { isRecorded = false, malformed = 0 }: WordsSetup,
): string[] {
  if (malformed > 0 && !isRecorded) {
    const lines = sayCount(malformed, "line");
    return paragraph(
      `${lines} came from ${input}, and not one of them is a frame. Does it speak what its name ` +
        "says (slcan: commands and frames as text; tcp: and -: lines as candump -L prints them)?",
    );
  }
  return paragraph(
    isRecorded
      ? `There is no frame in ${input}. Is it the recording that you mean?`
      : `Nothing was heard on ${input}. Is the network switched on, is the adapter or the gateway ` +
        "at its connector, and does it run at the bus's bit rate (NMEA 2000: 250 kbit/s)?",
  );
}
