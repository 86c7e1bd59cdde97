import type { Command } from "./command-line/command.ts";

/**
 * Every command, in the order in which the help lists them. Each is loaded when it is asked for:
 * broker, page and mail are half of the program, and a rehearsal needs none of them.
 */
const COMMANDS: ReadonlyMap<string, () => Promise<Command>> = new Map([
  ["run", async () => (await import("./run.ts")).run],
  ["demo", async () => (await import("./demo.ts")).demo],
  ["rehearse", async () => (await import("./rehearse.ts")).rehearse],
  ["survey", async () => (await import("./survey.ts")).survey],
  ["check", async () => (await import("./check.ts")).check],
  ["record", async () => (await import("./record.ts")).record],
  ["export", async () => (await import("./export.ts")).exportCommand],
  ["hail", async () => (await import("./hail.ts")).hail],
  ["ashore", async () => (await import("./ashore.ts")).ashore],
]);

export const COMMAND_NAMES: readonly string[] = [...COMMANDS.keys()];

/** The command of that name; undefined where there is none. */
export async function findCommand(name: string): Promise<Command | undefined> {
  return await COMMANDS.get(name)?.();
}

export function allCommands(): Promise<readonly Command[]> {
  return Promise.all([...COMMANDS.values()].map((load) => load()));
}
