/** By the code that Deno gives to errors of the operating system. */
const WORDS: ReadonlyMap<unknown, string> = new Map([
  ["ENOENT", "there is no such file or folder"],
  ["EACCES", "this user may not"],
  ["EPERM", "this user may not"],
  ["EISDIR", "it is a folder"],
  ["ENOTDIR", "a part of that path is no folder"],
  ["ENOSPC", "the disk is full"],
  ["EROFS", "the disk can only be read"],
  ["EIO", "the disk fails"],
]);
/** The number and the place that are added to what the operating system says. */
const ADDED = / \(os error \d+\).*$/s;

/** Why the operating system refused something with a file, as a clause without its numbers. */
export function sayWhy(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const code = "code" in error ? error.code : undefined;
  return WORDS.get(code) ?? error.message.replace(ADDED, "");
}
