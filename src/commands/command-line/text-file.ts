import { isAbsolute, relative, resolve } from "node:path";
import { CommandFailure } from "./exit-codes.ts";

/** A person's file with the name by which they would know it. */
export interface TextFile {
  /** As the person would say it: short, from the folder in which they typed. */
  readonly name: string;
  /** Whole path. */
  readonly path: string;
  readonly text: string;
}

/** @throws {CommandFailure} that says which file cannot be read, and why */
export async function readTextFile(place: string, folder: string): Promise<TextFile> {
  const path = resolve(folder, place);
  const name = shortName(path, folder);
  const bytes = await Deno.readFile(path).catch((error) => {
    throw new CommandFailure(`${name} cannot be read: ${reasonOf(error)}.`);
  });
  try {
    return { name, path, text: new TextDecoder("utf-8", { fatal: true }).decode(bytes) };
  } catch {
    throw new CommandFailure(`${name} cannot be read: it is no text in UTF-8.`);
  }
}

/** The YAML files of a folder by name, or the file itself; hidden ones are an editor's own. */
export async function readTextFiles(place: string, folder: string): Promise<TextFile[]> {
  const path = resolve(folder, place);
  const info = await Deno.stat(path).catch(() => undefined);
  if (info?.isDirectory !== true) return [await readTextFile(place, folder)];
  const names: string[] = [];
  for await (const entry of Deno.readDir(path)) {
    if (/^[^.].*\.ya?ml$/i.test(entry.name) && !/\.(expect|case)\.ya?ml$/i.test(entry.name)) {
      names.push(entry.name);
    }
  }
  if (names.length === 0) {
    throw new CommandFailure(`The folder ${shortName(path, folder)} holds no YAML files.`);
  }
  return await Promise.all(names.sort().map((name) => readTextFile(resolve(path, name), folder)));
}

export function shortName(path: string, folder: string): string {
  const short = relative(folder, path);
  return short === "" || short.startsWith("..") || isAbsolute(short) ? path : short;
}

function reasonOf(error: unknown): string {
  if (error instanceof Deno.errors.NotFound) return "there is no such file";
  if (error instanceof Deno.errors.PermissionDenied) return "it is not allowed";
  if (error instanceof Deno.errors.NotCapable) return "it is not allowed";
  if (error instanceof Deno.errors.IsADirectory) return "it is a folder";
  return error instanceof Error ? error.message : String(error);
}
