import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { runProgram } from "./shell.ts";

const place = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Commands of the program that the checks start. */
const COMMANDS = ["record", "export", "survey", "run"];

/**
 * The programs that the machine runs: `checks.js`, `listen.js` and `sternfast/main.js`, and what
 * Deno keeps of programs that it has read once, in `deno`. An emulated processor needs half a minute
 * to read ours without that, each time that it is started anew. Deno keeps it by a program's place,
 * so that the folder must have the same name in the machine.
 */
export async function makePrograms(folder: string): Promise<void> {
  await Promise.all([
    bundle("../guest/main.ts", ["--output", join(folder, "checks.js")]),
    bundle("../../support/listen-and-decode.ts", ["--output", join(folder, "listen.js")]),
    bundle("../../../src/commands/main.ts", [
      "--code-splitting",
      ...["--outdir", join(folder, "sternfast")],
    ]),
  ]);
  // None of them has anything to do: they are read, and end.
  await start(folder, ["checks.js", "(?!)"]);
  await start(folder, ["listen.js", "-", "0"]);
  for (const command of COMMANDS) await start(folder, ["sternfast/main.js", command, "--help"]);
  // In the machine a user without rights shares it.
  await runProgram("chmod", ["-R", "a+rwX", folder]);
}

async function bundle(entry: string, options: readonly string[]): Promise<void> {
  const typed = ["bundle", "--quiet", "--platform", "deno", "--minify", ...options, place(entry)];
  await runProgram(Deno.execPath(), typed);
}

async function start(folder: string, [program, ...typed]: readonly string[]): Promise<void> {
  const given = ["run", "-A", "--no-lock", "--no-config", join(folder, program), ...typed];
  await runProgram("env", [`DENO_DIR=${join(folder, "deno")}`, Deno.execPath(), ...given]);
}
