import { z } from "zod";
import { chapter, paragraph, table } from "./paper.ts";
import { HEALTH_HEADING, healthLines } from "./bus-words.ts";
import { deviceLines } from "./device-words.ts";
import { draftLines, ENDING, HEADING, type WordsSetup } from "./report-words.ts";
import { type SurveyReport, surveyReportSchema } from "./report-schema.ts";
import { engineHourLines, lookLines } from "./signal-words.ts";
import { foldStatusBits } from "./status-bits.ts";
import { troubleCodeLines } from "./trouble-code-words.ts";
import { VERDICT_CELLS } from "./verdict.ts";

/** The steps of a commissioning, in their order. */
export const PASSES = [
  { step: "key off", prompt: "Turn all keys off and leave the network on" },
  { step: "key on", prompt: "Turn the keys on, but do not start" },
  { step: "running", prompt: "Start the engines and let them idle, then change their speed" },
] as const;

/** What `survey --passes --json` prints and `--against` reads. */
export const passesSchema = z.object({
  passes: z.array(z.object({ step: z.string(), report: surveyReportSchema })).min(1),
});
export type Pass = z.infer<typeof passesSchema>["passes"][number];

/**
 * The verdicts of several passes side by side: every signal that any of them heard. What wants a look,
 * the devices and the drafted boat file are of the last one, in which everything should talk.
 */
export function passWords(passes: readonly Pass[], setup: WordsSetup): string[] {
  const { against = [], owners } = setup;
  const last = passes[passes.length - 1];
  const rows = rowsOf(passes.map(({ report }) => report));
  return [
    HEADING,
    "",
    ...paragraph(
      `${passes.length} passes, each signal's verdict in each. A signal that talks while its ` +
        "engine runs is fitted; one that never does is still to be fitted, or its wire is off.",
    ),
    ...against,
    ...troubleCodeLines(last.report),
    ...chapter(`What wants a look: ${last.step}`, lookLines(last.report, owners)),
    ...engineHourLines(last.report, owners),
    ...chapter("Signals, step by step", table([["", ...passes.map(({ step }) => step)], ...rows])),
    ...deviceLines(last.report),
    ...passes.flatMap(({ report, step }) =>
      chapter(`${HEALTH_HEADING}: ${step}`, healthLines(report))
    ),
    ...draftLines(last.report, setup),
    "",
    ENDING,
  ];
}

/** One row a signal; the status bits of one thing that fare alike share a row. */
function rowsOf(reports: readonly SurveyReport[]): string[][] {
  const verdicts = reports.map(({ signals }) =>
    new Map(signals.map(({ name, verdict }) => [name, verdict]))
  );
  const names = new Set(verdicts.flatMap((each) => [...each.keys()]));
  const sorted = [...names].toSorted((a, b) => a.localeCompare(b, "en", { numeric: true }));
  const fared = (name: string) =>
    verdicts.map((each) => VERDICT_CELLS[each.get(name) ?? "not-heard"]);
  return foldStatusBits(sorted, (name) => fared(name).join())
    .map(({ title, names: [first] }) => [title, ...fared(first)]);
}
