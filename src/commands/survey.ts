import { resolve } from "node:path";
import { z } from "zod";
import { parseDuration } from "../units/duration.ts";
import { sayWhy } from "../ground/say-why.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import { goneSince, goneWords } from "../survey/compare-surveys.ts";
import { passesSchema, passWords } from "../survey/pass-words.ts";
import { type SurveyReport, surveyReportSchema } from "../survey/report-schema.ts";
import { reportWords } from "../survey/report-words.ts";
import type { Command, Surroundings } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { expandInputs } from "./command-line/expand-inputs.ts";
import { BOAT } from "./command-line/options.ts";
import { readSetupFiles } from "./settings/setup.ts";
import { listen, type ListenOrder } from "./surveying/listen.ts";
import { surveyPasses } from "./surveying/passes.ts";
import { readTextFile } from "./command-line/text-file.ts";

const USUAL_LENGTH = "150 s";

export const survey: Command = {
  name: "survey",
  usage: "sternfast survey INPUT…",
  description:
    `Listens to a bus, or reads a recording to its end, and tells of every device and signal:
which talk, which are sent as not available, frozen or implausible, and the likely cause.
Trouble codes of engines are told in words. It drafts a boat file for you to complete. With
--passes it guides you through three steps: key off, key on, running; or takes a recording
of each, in this order.`,
  examples: [
    "sternfast survey socketcan:can0 --draft boat.yaml",
    "sternfast survey trip.log.gz --boat boat.yaml",
    "sternfast survey socketcan:can0 --json > autumn.json",
    "sternfast survey socketcan:can0 --against autumn.json",
  ],
  options: {
    ...BOAT,
    for: { value: "TIME", help: `how long to listen; ${USUAL_LENGTH}, or a recording's end` },
    draft: { value: "FILE", help: "write the drafted boat file there, if there is none yet" },
    against: { value: "EARLIER.json", help: "tell what spoke in an earlier survey and not now" },
    passes: { help: "three surveys side by side: key off, key on, running" },
    json: { help: "print the report as JSON for a program" },
  },
  async run(given, around) {
    const { folder, terminal } = around;
    const setup = await readSetupFiles(given, around);
    if (setup.inputs.length === 0) {
      throw new CommandFailure("survey needs an input, such as socketcan:can0 or trip.log.gz");
    }
    const against = given.text("against");
    const earlier = against === undefined ? undefined : await readEarlier(against, folder);
    const said = given.text("for");
    const order = {
      inputs: await expandInputs(setup.inputs, setup.inputFolder, terminal),
      named: setup.inputs,
      inputFolder: setup.inputFolder,
      boat: setup.boat,
      length: {
        live: readLength(said ?? USUAL_LENGTH),
        recorded: said === undefined ? Infinity : readLength(said),
      },
    };
    const { cut, isRecorded, malformed, passes, reports } = await surveyed(
      order,
      around,
      given.flag("passes"),
    );
    const last = reports.at(-1);
    // Interrupted before the first step.
    if (last === undefined) return ExitCode.well;
    const draft = given.text("draft");
    if (draft !== undefined) await writeDraft(draft, last.draft, folder);
    const gone = earlier === undefined ? undefined : goneSince(earlier, reports);
    if (given.flag("json")) {
      const found = passes === undefined ? last : { passes };
      terminal.out(JSON.stringify(gone === undefined ? found : { ...found, gone }, null, 2));
    } else {
      const setupOfWords = {
        owners: setup.boat.units,
        against: gone === undefined ? [] : goneWords(gone),
        isRecorded,
        malformed,
        withoutDraft: draft !== undefined,
      };
      const lines = passes === undefined
        ? reportWords(last, setupOfWords)
        : passWords(passes, setupOfWords);
      terminal.out(lines.join("\n"));
    }
    if (draft !== undefined) terminal.error(`The boat file to begin with is in ${draft}.`);
    return cut ? ExitCode.wrongInput : ExitCode.well;
  },
};

async function surveyed(order: ListenOrder, around: Surroundings, inPasses: boolean) {
  if (!inPasses) {
    const { cut, isLive, malformed, report } = await listen(order, around);
    return { cut, isRecorded: !isLive, malformed, reports: [report] };
  }
  const { cut, passes } = await surveyPasses(order, around);
  return { cut, passes, reports: passes.map(({ report }) => report) };
}

/** @throws {CommandFailure} */
function readLength(text: string): Micros {
  const read = parseDuration(text);
  if (read.ok && read.value >= SECOND) return read.value;
  throw new CommandFailure(`--for: found "${text}", expected a time of 1 s or more, such as 150 s`);
}

/** What `survey --json` printed, with or without a comparison of its own, or passes. */
const earlierSchema = z.union([
  surveyReportSchema.loose().transform((report) => [report]),
  passesSchema.transform(({ passes }) => passes.map(({ report }) => report)),
]);

/** The reports of an earlier survey, one or one for each pass. @throws {CommandFailure} */
async function readEarlier(place: string, folder: string): Promise<readonly SurveyReport[]> {
  const { name, text } = await readTextFile(place, folder);
  try {
    return earlierSchema.parse(JSON.parse(text));
  } catch {
    throw new CommandFailure(
      `--against: ${name} is no survey; expected what sternfast survey --json has printed.`,
    );
  }
}

/** An owner's boat file is never written over. @throws {CommandFailure} */
async function writeDraft(place: string, text: string, folder: string): Promise<void> {
  try {
    await Deno.writeTextFile(resolve(folder, place), text, { createNew: true });
  } catch (error) {
    const why = error instanceof Deno.errors.AlreadyExists
      ? "there is a file of this name already, which was left as it is"
      : sayWhy(error);
    throw new CommandFailure(`--draft: ${place} cannot be written: ${why}.`);
  }
}
