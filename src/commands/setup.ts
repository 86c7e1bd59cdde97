import { dirname, join } from "node:path";
import type { Rule } from "../alarms/rules/rule.ts";
import type { Boat } from "../boat/boat.ts";
import type { Arguments } from "./arguments.ts";
import type { Surroundings } from "./command.ts";
import { readBoat, readRuleSet, speakOf } from "./read-boat.ts";
import { readSettings, type Settings } from "./settings.ts";
import { readTextFile } from "./text-file.ts";

/** What the command line and the settings say together; the command line goes first. */
export interface Setup {
  readonly settings: Settings | undefined;
  readonly boat: Boat;
  readonly rules: readonly Rule[];
  /** INPUT texts, and the folder where their relative places start. */
  readonly inputs: readonly string[];
  readonly inputFolder: string;
}

const USUAL_NAME = "sternfast.yaml";
const SYSTEM_FOLDER = "/etc/sternfast";

/** @throws {CommandFailure} with every problem of the first file that has any */
export async function readSetup(given: Arguments, around: Surroundings): Promise<Setup> {
  const { folder, terminal } = around;
  const settings = await findSettings(given.text("settings"), around);
  const rulePlaces = given.texts("rules");
  return {
    settings,
    boat: await readBoat(given.text("boat") ?? settings?.boat ?? undefined, folder, terminal),
    rules: await readRuleSet(
      rulePlaces.length > 0 ? rulePlaces : settings?.rules ?? [],
      folder,
      terminal,
    ),
    inputs: given.words.length > 0 ? given.words : settings?.input ?? [],
    inputFolder: given.words.length > 0 ? folder : settings?.folder ?? folder,
  };
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
  return settings;
}

async function firstThere(places: readonly string[]): Promise<string | undefined> {
  for (const place of places) {
    const found = await Deno.stat(place).catch(() => undefined);
    if (found?.isFile) return place;
  }
  return undefined;
}
