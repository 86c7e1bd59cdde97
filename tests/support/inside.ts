import { parseArguments } from "../../src/commands/command-line/arguments.ts";
import type { Command } from "../../src/commands/command-line/command.ts";
import { CommandFailure } from "../../src/commands/command-line/exit-codes.ts";
import type { Terminal } from "../../src/commands/command-line/terminal.ts";
import type { Finished } from "./sternfast.ts";

/** Runs a command inside this process, in a folder, and returns what it said. */
export async function inside(
  command: Command,
  typed: readonly string[],
  folder: string,
  interrupted = new AbortController().signal,
): Promise<Finished> {
  const out: string[] = [];
  const error: string[] = [];
  const terminal: Terminal = {
    out: (line) => out.push(`${line}\n`),
    error: (line) => error.push(`${line}\n`),
    bytes: (bytes) => out.push(new TextDecoder().decode(bytes)),
    status() {},
    width: 80,
  };
  let code: number;
  try {
    const given = parseArguments(command.name, command.options, typed);
    code = await command.run(given, { terminal, folder, interrupted });
  } catch (failure) {
    if (!(failure instanceof CommandFailure)) throw failure;
    terminal.error(failure.message);
    code = failure.exitCode;
  }
  return { code, out: out.join(""), error: error.join("") };
}
