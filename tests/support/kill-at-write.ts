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
  const place = join(folder, "imports.json");
  await Deno.writeTextFile(place, JSON.stringify(importMap()));
  return await start(typed, {
    folder,
    input: "piped",
    env: { [KILL_AT_WRITE]: String(write) },
    // Whoever kills itself needs the right to.
    permissions: ["--allow-run", "--import-map", place],
  });
}

/** The project's own imports, with another SQLite for everybody but that one. */
function importMap(): unknown {
  const config: { imports: Record<string, string> } = JSON.parse(
    Deno.readTextFileSync(`${ROOT}/deno.json`),
  );
  const killing = pathToFileURL(`${ROOT}/tests/support/killing-sqlite.ts`).href;
  // A map that stands alone has to say of a package's parts too where they are.
  const parts = Object.entries(config.imports).map(([name, place]) => [
    `${name}/`,
    `${place.replace("npm:", "npm:/")}/`,
  ]);
  return {
    imports: { ...config.imports, ...Object.fromEntries(parts), "node:sqlite": killing },
    scopes: { [killing]: { "node:sqlite": "node:sqlite" } },
  };
}
