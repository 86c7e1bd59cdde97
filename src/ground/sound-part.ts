import type { z } from "zod";

/**
 * What a schema makes of a document after every part that it refuses has been left out; undefined
 * where nothing is left. Checks across parts run on it, so that one slip does not hide another.
 */
export function soundPart<T>(schema: z.ZodType<T>, value: unknown): T | undefined {
  const rest: unknown = structuredClone(value);
  for (;;) {
    const result = schema.safeParse(rest);
    if (result.success) return result.data;
    const removed = result.error.issues.map((issue) =>
      issue.code === "unrecognized_keys"
        ? issue.keys.map((key) => remove(rest, [...issue.path, key])).includes(true)
        : remove(rest, issue.path)
    );
    if (!removed.includes(true)) return undefined;
  }
}

/** Removes the last group member on a path: the part itself, its list, or what lacks it. */
function remove(root: unknown, path: readonly PropertyKey[]): boolean {
  let group: unknown = root;
  let last: { group: object; key: PropertyKey } | undefined;
  for (const key of path) {
    if (!isGroup(group) || !Object.hasOwn(group, key)) break;
    last = { group, key };
    group = Reflect.get(group, key);
  }
  return last !== undefined && Reflect.deleteProperty(last.group, last.key);
}

function isGroup(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
