import { chapter, paragraph, table } from "./paper.ts";
import { ENDING, HEADING } from "./report-words.ts";
import type { SurveyReport } from "./report-schema.ts";
import { VERDICT_WORDS } from "./verdict.ts";

/** The steps of a commissioning, in their order. */
export const PASSES = [
  { step: "key off", prompt: "Turn all keys off and leave the network on" },
  { step: "key on", prompt: "Turn the keys on, but do not start" },
  { step: "running", prompt: "Start the engines and let them idle, then change their speed" },
] as const;

export interface Pass {
  readonly step: string;
  readonly report: SurveyReport;
}

/** The verdicts of several passes side by side: every signal that any of them heard. */
export function passWords(passes: readonly Pass[]): string[] {
  const names = new Set(passes.flatMap(({ report }) => report.signals.map(({ name }) => name)));
  const sorted = [...names].toSorted((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return [
    HEADING,
    "",
    ...paragraph(
      `${passes.length} passes, each signal's verdict in each. A signal that talks while its ` +
        "engine runs is fitted; one that never does is still to be fitted, or its wire is off.",
    ),
    ...chapter(
      `Signals: ${names.size}`,
      table([
        ["", ...passes.map(({ step }) => step)],
        ...sorted.map((name) => [name, ...passes.map(({ report }) => verdictIn(report, name))]),
      ]),
    ),
    "",
    ENDING,
  ];
}

function verdictIn(report: SurveyReport, name: string): string {
  const verdict = report.signals.find((signal) => signal.name === name)?.verdict ?? "not-heard";
  return VERDICT_WORDS[verdict];
}
