import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { KILL_AT_WRITE } from "./killing-sqlite-name.ts";
import { ROOT, type Running, start } from "./sternfast.ts";

/** Starts the whole program, which ends itself at one write of its store, counted from 1. */
export async function killAtWrite(
  typed: readonly string[],
  folder: string,
  write: number,
): Promise<Running> {
  return await start(typed, {
    folder,
    input: "piped",
    env: { [KILL_AT_WRITE]: String(write) },
    // Whoever kills itself needs the right to.
    permissions: ["--allow-run", "--import-map", await importMapIn(folder)],
  });
}

/** The same with a program of the tests. */
export async function killProgramAtWrite(
  program: string,
  given: readonly string[],
  folder: string,
  write: number,
): Promise<Deno.ChildProcess> {
  const map = ["--import-map", await importMapIn(folder), "--config", `${ROOT}/deno.json`];
  return new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", "--no-check", ...map, program, ...given],
    cwd: ROOT,
    env: { [KILL_AT_WRITE]: String(write) },
    stdin: "piped",
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
}

/** The project's own imports, with another SQLite for everybody but that one. */
async function importMapIn(folder: string): Promise<string> {
  const place = join(folder, "imports.json");
  const config: { imports: Record<string, string> } = JSON.parse(
    await Deno.readTextFile(`${ROOT}/deno.json`),
  );
  const killing = pathToFileURL(`${ROOT}/tests/support/killing-sqlite.ts`).href;
  // A map that stands alone has to say of a package's parts too where they are.
  const parts = Object.entries(config.imports).map(([name, place]) => [
    `${name}/`,
    `${place.replace("npm:", "npm:/")}/`,
  ]);
  const map = {
    imports: { ...config.imports, ...Object.fromEntries(parts), "node:sqlite": killing },
    scopes: { [killing]: { "node:sqlite": "node:sqlite" } },
  };
  await Deno.writeTextFile(place, JSON.stringify(map));
  return place;
}
