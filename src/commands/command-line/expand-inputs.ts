import { join, resolve } from "node:path";
import { CannotOpenInput } from "../../bus/cannot-open-input.ts";
import { folderRecordings } from "../../bus/folder-recordings.ts";
import { CommandFailure } from "./exit-codes.ts";
import type { Terminal } from "./terminal.ts";

/**
 * Inputs with each folder in place of it the recordings that lie in it, in time order: a rehearsal
 * wants to know where one recording ends and the next begins.
 */
export async function expandInputs(
  inputs: readonly string[],
  folder: string,
  terminal: Terminal,
): Promise<string[]> {
  const expanded: string[] = [];
  for (const input of inputs) {
    const place = resolve(folder, input);
    const info = await Deno.stat(place).catch(() => undefined);
    if (info?.isDirectory !== true) {
      expanded.push(input);
      continue;
    }
    const { recordings, problems } = await folderRecordings(place).catch((error) => {
      if (error instanceof CannotOpenInput) throw new CommandFailure(error.message);
      throw error;
    });
    for (const { recording, found, expected } of problems) {
      terminal.error(`${join(input, recording ?? "")}: found ${found}; expected ${expected}.`);
    }
    if (recordings.length === 0) {
      throw new CommandFailure(`The folder ${input} holds no recordings.`);
    }
    expanded.push(...recordings.map(({ file, kind }) => `${kind}:${file}`));
  }
  return expanded;
}
