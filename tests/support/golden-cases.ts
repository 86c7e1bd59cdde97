import { readdirSync } from "node:fs";

/** The names of the cases in a folder of YAML files, in order. */
export function casesIn(folder: string): string[] {
  return readdirSync(folder).filter((file) => file.endsWith(".yaml"))
    .map((file) => file.slice(0, -".yaml".length)).sort();
}
