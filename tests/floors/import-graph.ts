import { dirname, join, normalize } from "node:path";

/** Every source file of `src/` with the files of `src/` that it imports. */
export async function importGraph(root: string): Promise<Map<string, string[]>> {
  const graph = new Map<string, string[]>();
  for await (const file of sourceFiles(root)) {
    const text = await Deno.readTextFile(join(root, file));
    const imported = [...text.matchAll(IMPORT)]
      .map((found) => found[1] ?? found[2])
      .filter((target) => target.startsWith(".") && target.endsWith(".ts"))
      .map((target) => normalize(join(dirname(file), target)));
    graph.set(file, imported);
  }
  return graph;
}

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\b[^"';]*?from\s*"([^"]+)"|(?:import\(|new URL\()\s*"([^"]+)"/g;

/** Paths below `root` of all TypeScript files under `src`, sorted. */
export async function* sourceFiles(root: string, folder = "src"): AsyncGenerator<string> {
  const entries = [];
  for await (const entry of Deno.readDir(join(root, folder))) entries.push(entry);
  entries.sort((a, b) => a.name < b.name ? -1 : 1);
  for (const entry of entries) {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory) yield* sourceFiles(root, path);
    else if (entry.name.endsWith(".ts")) yield path;
  }
}
