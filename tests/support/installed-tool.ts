import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";

/** Whether a program lies in one of the folders of PATH. */
export function isInstalled(name: string): boolean {
  const folders = (Deno.env.get("PATH") ?? "").split(delimiter);
  return folders.some((folder) => existsSync(join(folder, name)));
}

/**
 * Whether a program that outside checks compare with is on this machine. A missing one is said
 * aloud and its checks are skipped, except where `CI=true`: there a skip is a failure.
 * @throws {Error} when it is missing and CI=true.
 */
export function toolIsInstalled(name: string): boolean {
  if (isInstalled(name)) return true;
  const sentence = `"${name}" is not installed: the checks against it`;
  if (Deno.env.get("CI") === "true") throw new Error(`${sentence} cannot run`);
  Deno.stderr.writeSync(new TextEncoder().encode(`${sentence} are skipped\n`));
  return false;
}
