import { dirname } from "node:path";
import { z } from "zod";
import { readBoatFile } from "../boat/boat-file.ts";
import { boatFileSchema } from "../boat/boat-file/schema.ts";
import { ruleFileSchema } from "../alarms/rules/rule-schema.ts";
import type { Problem } from "../ground/problem.ts";
import { isFault, sayProblems } from "../ground/problem-words.ts";
import { nearestName } from "../ground/spelling.ts";
import { readYaml } from "../ground/yaml-file.ts";
import type { Command } from "./command.ts";
import { CommandFailure, ExitCode } from "./exit-codes.ts";
import { rulesOf } from "./read-boat.ts";
import { readSettings } from "./settings.ts";
import { settingsSchema } from "./settings-schema.ts";
import { readTextFiles, type TextFile } from "./text-file.ts";

export const check: Command = {
  name: "check",
  summary: "find every mistake in your files, before the boat does",
  usage: "sternfast check FILE…",
  description:
    `Reads settings, boat files and rule files (or a folder of them) and says every mistake at
once: where it is, what was found and what was probably meant. Nothing is changed.
Exit code 1 when something is wrong.`,
  examples: [
    "sternfast check boat.yaml rules",
    "sternfast check --schema rules > rules.schema.json",
  ],
  options: {
    schema: { value: "settings|boat|rules", help: "print a JSON Schema for your editor" },
  },
  async run(given, { terminal, folder }) {
    const schema = given.text("schema");
    if (schema !== undefined) {
      terminal.out(JSON.stringify(z.toJSONSchema(schemaOf(schema), { io: "input" }), null, 2));
      return ExitCode.well;
    }
    if (given.words.length === 0) throw new CommandFailure("check needs a file: FILE…");
    const files = (await Promise.all(given.words.map((place) => readTextFiles(place, folder))))
      .flat();
    let faults = 0;
    for (const file of files) {
      const kind = kindOf(file);
      const problems = problemsOf(file, kind);
      if (problems.length > 0) terminal.error(sayProblems(problems, "nothing was changed"));
      const wrong = problems.filter(isFault).length;
      faults += wrong;
      if (wrong === 0) terminal.out(`${file.name}: ${KIND_WORDS[kind]} without a mistake.`);
    }
    return faults === 0 ? ExitCode.well : ExitCode.doesNotHold;
  },
};

type Kind = "settings" | "boat" | "rules";

const KIND_WORDS: Readonly<Record<Kind, string>> = {
  settings: "settings",
  boat: "a boat file",
  rules: "a rule file",
};

/** What a file is, by its keys, misspelled or not: the kind of which it has most. */
function kindOf(file: TextFile): Kind {
  const keys = readYaml(file.name, file.text).document.keys([]);
  const counts = (["rules", "settings", "boat"] as const).map((kind) => ({
    kind,
    count: keys.filter((key) => nearestName(key, KEYS[kind]) !== undefined).length,
  }));
  return counts.reduce((most, one) => one.count > most.count ? one : most).kind;
}

const KEYS: Readonly<Record<Kind, readonly string[]>> = {
  settings: Object.keys(settingsSchema("/").shape),
  boat: Object.keys(boatFileSchema.shape),
  rules: Object.keys(ruleFileSchema.shape),
};

function problemsOf(file: TextFile, kind: Kind): readonly Problem[] {
  switch (kind) {
    case "settings":
      return readSettings(file.name, dirname(file.path), file.text).problems;
    case "boat":
      return readBoatFile(file.name, file.text).problems;
    case "rules":
      return rulesOf([file]).problems;
  }
}

function schemaOf(name: string): z.ZodType {
  switch (name) {
    case "settings":
      return settingsSchema("/");
    case "boat":
      return boatFileSchema;
    case "rules":
      return ruleFileSchema;
    default:
      throw new CommandFailure(`--schema: found "${name}", expected settings, boat or rules`);
  }
}
