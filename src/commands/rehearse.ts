import { BusNames } from "../bus/bus-names.ts";
import { changeLine } from "../formats/change-lines.ts";
import { runsOf } from "../rehearsal/run.ts";
import { runWords } from "../rehearsal/run-words.ts";
import { ScheduledAnswers } from "../rehearsal/scheduled-answers.ts";
import { parseDuration } from "../units/duration.ts";
import { say } from "../units/say.ts";
import { Watch } from "../watch.ts";
import type { Command } from "./command.ts";
import { CommandFailure, ExitCode } from "./exit-codes.ts";
import { expandInputs } from "./expand-inputs.ts";
import { openSource } from "./open-source.ts";
import { BOAT, JSON_LINES, RULES } from "./options.ts";
import { speakOfSource } from "./read-source.ts";
import { readSetup } from "./setup.ts";

export const rehearse: Command = {
  name: "rehearse",
  summary: "try your rules on recordings: what would they have told you?",
  usage: "sternfast rehearse INPUT…",
  description:
    `Runs recordings through your rules as fast as it can, by the recorded time, and shows
every alarm with its time since the start of the run. Recordings whose ends meet are
one run; each run starts cold.`,
  examples: [
    "sternfast rehearse trip.log.gz --boat boat.yaml --rules rules",
    "sternfast rehearse recordings/ --answer never --json",
  ],
  options: {
    ...BOAT,
    ...RULES,
    answer: { value: "'never'|'after 60 s'", help: "when a person answers an alarm; after 60 s" },
    ...JSON_LINES,
  },
  async run(given, around) {
    const { terminal } = around;
    const setup = await readSetup(given, around);
    if (setup.inputs.length === 0) throw new CommandFailure("rehearse needs a recording: INPUT…");
    if (setup.rules.length === 0) {
      throw new CommandFailure("rehearse needs rules: --rules FILE|DIR, or rules: in the settings");
    }
    const wait = readAnswer(given.text("answer") ?? "after 60 s");
    const buses = new BusNames();
    const inputs = await expandInputs(setup.inputs, setup.inputFolder, terminal);
    const sources = await Promise.all(
      inputs.map((input) => openSource(input, { buses, folder: setup.inputFolder })),
    );
    around.interrupted.addEventListener("abort", () => sources.forEach((source) => source.stop()));

    const newWatch = () =>
      new Watch({
        boat: setup.boat,
        rules: setup.rules,
        busNames: buses,
        answering: wait === null ? undefined : new ScheduledAnswers(wait),
      });
    const asJson = given.flag("json");
    const titles = new Map(setup.rules.map(({ tag, title }) => [tag, title]));
    let code: ExitCode = ExitCode.well;
    const runs = runsOf(sources, newWatch, (changes) => {
      if (asJson) { for (const change of changes) terminal.out(changeLine(change)); }
    });
    for await (const run of runs) {
      if (!asJson) {
        const words = runWords(run, {
          titles,
          say: (value, unit) => say(value, unit, setup.boat.units),
        });
        for (const line of words) terminal.out(line);
        terminal.out("");
      }
      for (const sentence of run.endedEarly) {
        terminal.error(`${sentence}. What lies before that was used.`);
        code = ExitCode.wrongInput;
      }
    }
    for (const source of sources) speakOfSource(source, terminal);
    return code;
  },
};

/** Microseconds from raising to answer; null for never. */
function readAnswer(text: string): number | null {
  if (text === "never") return null;
  const after = /^after (.+)$/.exec(text);
  const wait = after === null ? undefined : parseDuration(after[1]);
  if (wait?.ok) return wait.value;
  throw new CommandFailure(`--answer: found "${text}", expected never or 'after 60 s'`);
}
