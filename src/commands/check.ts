import { dirname } from "node:path";
import { z } from "zod";
import type { Boat } from "../boat/boat.ts";
import { readBoatFile } from "../boat/boat-file.ts";
import { boatFileSchema } from "../boat/boat-file/schema.ts";
import { ruleFileSchema } from "../alarms/rules/rule-schema.ts";
import type { Problem } from "../ground/problem.ts";
import { isFault, sayProblems } from "../ground/problem-words.ts";
import { nearestName } from "../ground/spelling.ts";
import { readYaml } from "../ground/yaml-file.ts";
import type { Command } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { answersFileSchema } from "../rehearsal/answers/answers-schema.ts";
import { readAnswers } from "../rehearsal/answers/read-answers.ts";
import { caseFileSchema } from "../rehearsal/cases/case-schema.ts";
import { expectationFileSchema } from "../rehearsal/expectations/expectation-schema.ts";
import { trialsFileSchema } from "../rehearsal/trials/trials-schema.ts";
import { readBoat, rulesOf, tagsIn } from "./settings/read-boat.ts";
import { signalsHeard } from "./checking/signals-heard.ts";
import { ruleNotices } from "./checking/rule-notices.ts";
import { caseProblems } from "./rehearsing/cases.ts";
import { expectationProblems } from "./rehearsing/expectations.ts";
import { trialProblems } from "./rehearsing/sea-trials.ts";
import { secretCautions } from "./settings/secret-care.ts";
import { readSettings } from "./settings/settings.ts";
import { settingsSchema } from "./settings/settings-schema.ts";
import { readTextFiles, type TextFile } from "./command-line/text-file.ts";

export const check: Command = {
  name: "check",
  usage: "sternfast check FILE…",
  description:
    `Reads settings, boat files, rule files, expectations, synthetic cases, answers and sea trials
(or a folder of them) and says every mistake at once: where it is, what was found and what was
probably meant. Held against a recording it also says which rules would never be raised, because
nothing sends what they need, or never with a value. Nothing is changed. Exit code 1 when something
is wrong.`,
  examples: [
    "sternfast check boat.yaml rules",
    "sternfast check rules --heard trip.log.gz --boat boat.yaml",
    "sternfast check --schema rules > rules.schema.json",
  ],
  options: {
    heard: {
      value: "INPUT",
      repeatable: true,
      help: "a recording to hold rules against; may be given again",
    },
    boat: {
      value: "FILE",
      help: "the boat file by which that recording is read, and to hold rules against",
    },
    schema: {
      value: "KIND",
      help: "print a JSON Schema: rules, settings, boat, case, expectations, answers, trials",
    },
  },
  async run(given, around) {
    const { terminal, folder } = around;
    const schema = given.text("schema");
    if (schema !== undefined) {
      terminal.out(JSON.stringify(z.toJSONSchema(schemaOf(schema), { io: "input" }), null, 2));
      return ExitCode.well;
    }
    if (given.words.length === 0) throw new CommandFailure("check needs a file: FILE…");
    const { files, unread } = await readAll(given.words, folder);
    for (const sentence of unread) terminal.error(sentence);
    const described = await readBoat(given.text("boat"), folder, terminal);
    const heard = given.texts("heard").length === 0
      ? undefined
      : await signalsHeard(given.texts("heard"), described, around);
    const boats = [described, ...boatsIn(files)];
    const tags = tagsIn(files.filter((file) => kindOf(file) === KINDS.rules));
    let faults = 0;
    for (const file of files) {
      const kind = kindOf(file);
      const found = kind.problems(file, tags);
      const unfit = kind === KINDS.rules ? ruleNotices(file, boats, heard) : [];
      const problems = [...found, ...unfit];
      if (problems.length > 0) terminal.error(sayProblems(problems, "nothing was changed"));
      kind.cautions?.(file).forEach((line) => terminal.error(line));
      const wrong = problems.filter(isFault).length;
      faults += wrong;
      if (wrong === 0) terminal.out(`${file.name}: ${wordsOf(file, kind)}.`);
    }
    if (unread.length > 0) return ExitCode.wrongInput;
    return faults === 0 ? ExitCode.well : ExitCode.doesNotHold;
  },
};

/** What can be read of what was named, and of each that cannot a sentence: the others are checked. */
async function readAll(places: readonly string[], folder: string) {
  const files: TextFile[] = [];
  const unread: string[] = [];
  for (const place of places) {
    try {
      files.push(...await readTextFiles(place, folder));
    } catch (error) {
      if (!(error instanceof CommandFailure)) throw error;
      unread.push(error.message);
    }
  }
  return { files, unread };
}

/** A sort of file that a person writes. */
interface Kind {
  /** With "without a mistake" behind it. */
  readonly words: string;
  readonly schema: z.ZodType;
  /** Keys at the top of such a file. */
  readonly keys: readonly string[];
  /** @param tags of the rules in all the files that are checked */
  problems(file: TextFile, tags: readonly string[]): readonly Problem[];
  /** What is no mistake in the file itself, as sentences. */
  cautions?(file: TextFile): readonly string[];
}

const settings = settingsSchema("/");

/** By the name that `--schema` knows; where two fit a file equally well, the first one counts. */
const KINDS: Readonly<Record<string, Kind>> = {
  rules: {
    words: "a rule file",
    schema: ruleFileSchema,
    keys: Object.keys(ruleFileSchema.shape),
    problems: (file, tags) => rulesOf([file], tags).problems,
  },
  settings: {
    words: "settings",
    schema: settings,
    keys: Object.keys(settings.shape),
    problems: ({ name, path, text }) => readSettings(name, dirname(path), text).problems,
    cautions({ name, path, text }) {
      const { settings } = readSettings(name, dirname(path), text);
      return settings === undefined ? [] : secretCautions(settings);
    },
  },
  boat: {
    words: "a boat file",
    schema: boatFileSchema,
    keys: Object.keys(boatFileSchema.shape),
    problems: ({ name, text }) => readBoatFile(name, text).problems,
  },
  case: {
    words: "a synthetic case",
    schema: caseFileSchema,
    keys: Object.keys(caseFileSchema.shape),
    problems: caseProblems,
  },
  expectations: {
    words: "expectations",
    schema: expectationFileSchema,
    keys: Object.keys(expectationFileSchema.shape),
    problems: expectationProblems,
  },
  answers: {
    words: "answers",
    schema: answersFileSchema,
    keys: Object.keys(answersFileSchema.shape),
    problems: ({ name, text }) => readAnswers(name, text, null).problems,
  },
  trials: {
    words: "sea trials",
    schema: trialsFileSchema,
    keys: Object.keys(trialsFileSchema.shape),
    problems: trialProblems,
  },
};

/** The boats that are described without a mistake among files. */
function boatsIn(files: readonly TextFile[]): Boat[] {
  return files.filter((file) => kindOf(file) === KINDS.boat).flatMap(({ name, text }) => {
    const { boat } = readBoatFile(name, text);
    return boat === undefined ? [] : [boat];
  });
}

/** What a file without a mistake is; with nothing in it, it could be any. */
function wordsOf(file: TextFile, { words }: Kind): string {
  const isEmpty = readYaml(file.name, file.text).document.value === null;
  return isEmpty ? "there is nothing in it" : `${words} without a mistake`;
}

/** What a file is: by its ending, else by its keys, misspelled or not, the kind of which it has most. */
function kindOf(file: TextFile): Kind {
  if (/\.expect\.ya?ml$/i.test(file.name)) return KINDS.expectations;
  if (/\.case\.ya?ml$/i.test(file.name)) return KINDS.case;
  const keys = readYaml(file.name, file.text).document.keys([]);
  const fit = (kind: Kind) =>
    keys.filter((key) => nearestName(key, kind.keys) !== undefined).length;
  return Object.values(KINDS).reduce((best, kind) => fit(kind) > fit(best) ? kind : best);
}

function schemaOf(name: string): z.ZodType {
  if (Object.hasOwn(KINDS, name)) return KINDS[name].schema;
  const names = Object.keys(KINDS);
  const nearest = nearestName(name, names);
  const meant = nearest === undefined ? "" : `; did you mean ${nearest}?`;
  throw new CommandFailure(
    `--schema: found "${name}", expected ${names.slice(0, -1).join(", ")} or ${
      names.at(-1)
    }${meant}`,
  );
}
