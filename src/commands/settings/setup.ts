import { dirname, join } from "node:path";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Arguments } from "../command-line/arguments.ts";
import { refuseOneBusTwice } from "../command-line/one-bus-twice.ts";
import type { Surroundings } from "../command-line/command.ts";
import { acceptRules, readBoat, speakOf } from "./read-boat.ts";
import { secretCautions } from "./secret-care.ts";
import { readSettings, type Settings } from "./settings.ts";
import { readTextFile, readTextFiles, type TextFile } from "../command-line/text-file.ts";

/** What the command line and the settings say together; the command line goes first. */
export interface Setup {
  readonly settings: Settings | undefined;
  readonly boat: Boat;
  /** As they lie there, right or wrong. */
  readonly ruleFiles: readonly TextFile[];
  /** Reads them again, as they lie there then; a @throws {CommandFailure} says what is missing. */
  readonly rereadRules: () => Promise<readonly TextFile[]>;
  /** INPUT texts, and the folder where their relative places start. */
  readonly inputs: readonly string[];
  readonly inputFolder: string;
}

const USUAL_NAME = "sternfast.yaml";
const SYSTEM_FOLDER = "/etc/sternfast";

/** With rules that have no problem. */
export interface SoundSetup extends Setup {
  readonly rules: readonly Rule[];
}

/** @throws {CommandFailure} with every problem of the first file that has any */
export async function readSetup(given: Arguments, around: Surroundings): Promise<SoundSetup> {
  const setup = await readSetupFiles(given, around);
  return { ...setup, rules: acceptRules(setup.ruleFiles, around.terminal) };
}

/** @throws {CommandFailure} with every problem of settings or boat file, or a file that is missing */
export async function readSetupFiles(given: Arguments, around: Surroundings): Promise<Setup> {
  const { folder, terminal } = around;
  const settings = await findSettings(given.text("settings"), around);
  const typed = given.texts("rules");
  const rulePlaces = typed.length > 0 ? typed : settings?.rules ?? [];
  const inputs = given.words.length > 0 ? given.words : settings?.input ?? [];
  refuseOneBusTwice(inputs);
  const rereadRules = () => readAllTexts(rulePlaces, folder);
  return {
    settings,
    boat: await readBoat(given.text("boat") ?? settings?.boat ?? undefined, folder, terminal),
    ruleFiles: await rereadRules(),
    rereadRules,
    inputs,
    inputFolder: given.words.length > 0 ? folder : settings?.folder ?? folder,
  };
}

/** Files and folders in the order in which they were named. */
async function readAllTexts(places: readonly string[], folder: string): Promise<TextFile[]> {
  return (await Promise.all(places.map((place) => readTextFiles(place, folder)))).flat();
}

async function findSettings(
  said: string | undefined,
  { folder, terminal }: Surroundings,
): Promise<Settings | undefined> {
  const place = said ??
    await firstThere([join(folder, USUAL_NAME), join(SYSTEM_FOLDER, USUAL_NAME)]);
  if (place === undefined) return undefined;
  const file = await readTextFile(place, folder);
  const { settings, problems } = readSettings(file.name, dirname(file.path), file.text);
  speakOf(problems, "the settings were not used", terminal);
  if (settings !== undefined) secretCautions(settings).forEach((line) => terminal.error(line));
  return settings;
}

async function firstThere(places: readonly string[]): Promise<string | undefined> {
  for (const place of places) {
    const found = await Deno.stat(place).catch(() => undefined);
    if (found?.isFile) return place;
  }
  return undefined;
}
