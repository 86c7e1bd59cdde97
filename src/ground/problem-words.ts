import type { Place, Problem } from "./problem.ts";

const HIDDEN = "a text that is not shown here";

/** The same problem without what was written, where that may be a secret. */
export function withHiddenText(problem: Problem): Problem {
  return problem.kind === "wrong-value" ? { ...problem, found: HIDDEN } : problem;
}

/** What `YamlFile.written` says where nothing can be shown as written; not set in quotes. */
const DESCRIPTIONS = new Set([
  "nothing",
  "a list",
  "an empty list",
  "a group of keys",
  "an empty group",
  "the end of the line",
  HIDDEN,
]);

/** True for what stands in the way of using a file; a notice does not. */
export function isFault(problem: Problem): boolean {
  return problem.kind !== "notice";
}

/** One problem as a sentence that a person can act on, with its place before it. */
export function sayProblem(problem: Problem): string {
  return `${sayPlace(problem.place)}: ${clauseOf(problem)}${endOf(problem)}`;
}

/**
 * All problems, one a line, notices last. The first line also says how many more there are and what
 * became of it all (`outcome`: "nothing was changed").
 */
export function sayProblems(problems: readonly Problem[], outcome: string): string {
  const faults = problems.filter(isFault);
  const notices = problems.filter((problem) => !isFault(problem));
  const lines = [...faults, ...notices].map(sayProblem);
  if (faults.length > 0) lines[0] += ` ${sayRest(faults.length - 1, outcome)}`;
  return lines.join("\n");
}

function sayRest(more: number, outcome: string): string {
  if (more === 0) return `${outcome.charAt(0).toUpperCase()}${outcome.slice(1)}.`;
  return `${more} more ${more === 1 ? "problem" : "problems"} below; ${outcome}.`;
}

function sayPlace({ file, line, column }: Place): string {
  return `${file}:${line}:${column}`;
}

function clauseOf(problem: Problem): string {
  switch (problem.kind) {
    case "unknown-name":
      return `found ${quoted(problem.found)}, which ${problem.owner} does not know`;
    case "wrong-value":
      return `found ${quoted(problem.found)}; expected ${problem.expected}`;
    case "missing":
      return `${problem.owner} needs ${quoted(problem.what)}, which is not there`;
    case "conflict":
      return `${problem.found}; ${problem.remedy}`;
    case "notice":
      return `${quoted(problem.found)} is ${problem.note}`;
  }
}

function endOf(problem: Problem): string {
  const nearest = "nearest" in problem ? problem.nearest : undefined;
  return nearest === undefined ? "." : `; did you mean ${quoted(nearest)}?`;
}

/** On one line, without what a terminal would obey. */
function quoted(text: string): string {
  if (DESCRIPTIONS.has(text)) return text;
  const bare = text.replace(/^(["'])(.*)\1$/s, "$2");
  const shown = `"${bare.replace(/[\s\p{Cc}]+/gu, " ")}"`;
  // Quotes make a text of a number: then they are what is wrong.
  return bare !== text && bare.trim() !== "" && Number.isFinite(Number(bare))
    ? `${shown} in quotes`
    : shown;
}
