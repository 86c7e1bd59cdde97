import { z } from "zod";
import type { Problem } from "./problem.ts";
import { nearestName } from "./spelling.ts";
import type { WrittenFile } from "./yaml-file.ts";

// The program runs with code generation from strings forbidden.
z.config({ jitless: true });

/**
 * Says who does not know a key or lacks one, by the path of the group: "a boat file", "an engine".
 */
export type Owner = (path: readonly PropertyKey[]) => string;

/**
 * Checks a document against a schema and turns every issue into a problem with its place, what was
 * found, what was expected and the nearest valid name. A schema's own `error` text is the
 * expectation: write it as the end of "expected …".
 */
export function checkWith<T>(
  schema: z.ZodType<T>,
  document: WrittenFile,
  owner: Owner,
): { value: T | undefined; problems: Problem[] } {
  const result = schema.safeParse(document.value);
  if (result.success) return { value: result.data, problems: [] };
  const problems = result.error.issues.flatMap((issue) =>
    problemsOf(issue, issue.path, schema, document, owner)
  );
  return { value: undefined, problems: problems.sort(byPlace) };
}

/** Order of problems as a person reads the file. */
export function byPlace(a: Problem, b: Problem): number {
  return a.place.line - b.place.line || a.place.column - b.place.column;
}

function problemsOf(
  issue: z.core.$ZodIssue,
  path: readonly PropertyKey[],
  schema: z.ZodType,
  document: WrittenFile,
  owner: Owner,
): Problem[] {
  switch (issue.code) {
    case "invalid_type":
    case "invalid_value":
    case "invalid_union":
      if (isAbsent(path, document)) return missing(path, document, owner);
  }
  switch (issue.code) {
    case "unrecognized_keys": {
      const present = new Set(document.keys(path));
      const valid = knownKeys(schema, path).filter((key) => !present.has(key));
      return issue.keys.map((key): Problem => ({
        kind: "unknown-name",
        place: document.place([...path, key], "key"),
        found: key,
        owner: owner(path),
        ...nearest(key, valid),
      }));
    }
    case "invalid_key":
      return issue.issues.map((inner): Problem => ({
        kind: "wrong-value",
        place: document.place(path, "key"),
        found: String(path.at(-1)),
        expected: inner.message,
        ...meant(inner),
      }));
    case "invalid_value": {
      const found = document.written(path);
      const valid = issue.values.map(String);
      return [{
        kind: "wrong-value",
        place: document.place(path, "value"),
        found,
        expected: issue.message.startsWith("Invalid") ? oneOf(valid) : issue.message,
        ...nearest(found, valid),
      }];
    }
    case "invalid_union": {
      // Of several shapes the one with the fewest complaints is what the person meant.
      const branches = issue.errors.filter((branch) => branch.length > 0);
      const best = branches.toSorted((a, b) => depthOf(b) - depthOf(a) || a.length - b.length)[0];
      if (best === undefined || depthOf(best) === 0) {
        return [wrongValue(issue.message, path, document)];
      }
      return best.flatMap((inner) =>
        problemsOf(inner, [...path, ...inner.path], schema, document, owner)
      );
    }
    case "invalid_type":
      return [wrongValue(
        issue.message.startsWith("Invalid input") ? shapeWords(issue.expected) : issue.message,
        path,
        document,
      )];
    default:
      return [{ ...wrongValue(issue.message, path, document), ...meant(issue) }];
  }
}

/** A schema that knows what was probably meant says so in the parameters of its own issue. */
function meant(issue: z.core.$ZodIssue): { nearest?: string } {
  const nearest: unknown = issue.code === "custom" ? issue.params?.nearest : undefined;
  return typeof nearest === "string" ? { nearest } : {};
}

function wrongValue(
  expected: string,
  path: readonly PropertyKey[],
  document: WrittenFile,
): Extract<Problem, { kind: "wrong-value" }> {
  return {
    kind: "wrong-value",
    place: document.place(path, "value"),
    found: document.written(path),
    expected,
  };
}

function nearest(found: string, valid: readonly string[]): { nearest?: string } {
  const name = nearestName(found, valid);
  return name === undefined ? {} : { nearest: name };
}

function oneOf(words: readonly string[]): string {
  if (words.length === 1) return words[0];
  return `one of ${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}

function shapeWords(expected: string): string {
  const words: Record<string, string> = {
    string: "text",
    number: "a number",
    array: "a list",
    object: "a group of keys",
    record: "a group of keys",
    boolean: "yes or no",
  };
  return words[expected] ?? expected;
}

function depthOf(issues: readonly z.core.$ZodIssue[]): number {
  return Math.max(0, ...issues.map((issue) => issue.path.length + (hasInner(issue) ? 1 : 0)));
}

function isAbsent(path: readonly PropertyKey[], document: WrittenFile): boolean {
  const key = path.at(-1);
  return typeof key === "string" && !document.keys(path.slice(0, -1)).includes(key);
}

/** A key that is absent because it is misspelled is reported as that alone. */
function missing(path: readonly PropertyKey[], document: WrittenFile, owner: Owner): Problem[] {
  const [parent, key] = [path.slice(0, -1), String(path.at(-1))];
  if (document.keys(parent).some((present) => nearestName(present, [key]) === key)) return [];
  return [{
    kind: "missing",
    place: document.place(parent, "key"),
    what: key,
    owner: owner(parent),
  }];
}

function hasInner(issue: z.core.$ZodIssue): boolean {
  return issue.code === "unrecognized_keys";
}

/** Keys that a schema knows at a path; empty where it takes any. */
function knownKeys(schema: z.core.$ZodType, path: readonly PropertyKey[]): string[] {
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodUnion) {
    const options: readonly z.core.$ZodType[] = inner.options;
    return options.flatMap((option) => knownKeys(option, path));
  }
  if (inner instanceof z.ZodObject) {
    const shape: Record<string, z.core.$ZodType> = inner.shape;
    if (path.length === 0) return Object.keys(shape);
    const next = shape[String(path[0])];
    return next === undefined ? [] : knownKeys(next, path.slice(1));
  }
  if (path.length === 0) return [];
  if (inner instanceof z.ZodRecord) return knownKeys(inner.valueType, path.slice(1));
  if (inner instanceof z.ZodArray) return knownKeys(inner.element, path.slice(1));
  return [];
}

function unwrapped(schema: z.core.$ZodType): z.core.$ZodType {
  if (
    schema instanceof z.ZodOptional || schema instanceof z.ZodNullable ||
    schema instanceof z.ZodDefault || schema instanceof z.ZodPrefault
  ) {
    return unwrapped(schema.def.innerType);
  }
  if (schema instanceof z.ZodPipe) return unwrapped(schema.def.in);
  if (schema instanceof z.ZodLazy) return unwrapped(schema.def.getter());
  return schema;
}
