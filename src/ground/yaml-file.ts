import {
  type Document,
  isMap,
  isNode,
  isPair,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from "yaml";
import type { Place, Problem } from "./problem.ts";

/** What a check needs of a file: its plain value, and where and how everything in it is written. */
export type WrittenFile = Pick<YamlFile, "value" | "place" | "written" | "keys">;

/**
 * A person's YAML file with the position of every key and value beside the plain value.
 * YAML 1.2: `on`, `off`, `yes` and `no` come as text; the schemas that want a switch take both.
 */
export class YamlFile {
  constructor(
    readonly file: string,
    readonly value: unknown,
    readonly root: Node | null,
    readonly text: string,
    readonly lines: LineCounter,
  ) {}

  /**
   * Where a key or value stands; for a path that does not exist, the nearest part that does.
   * @param path keys and list positions from the top, as a schema library reports them
   */
  place(path: readonly PropertyKey[], part: "key" | "value"): Place {
    return this.#placeAt(this.#find(path, part).offset);
  }

  /** The value as the person wrote it; a list or a group is described. */
  written(path: readonly PropertyKey[]): string {
    const { node } = this.#find(path, "value");
    if (node === null || node === undefined) return "nothing";
    if (isMap(node)) return node.items.length === 0 ? "an empty group" : "a group of keys";
    if (isSeq(node)) return node.items.length === 0 ? "an empty list" : "a list";
    const text = isScalar(node) && node.range
      ? this.text.slice(node.range[0], node.range[1]).trim()
      : "";
    return text === "" ? "nothing" : text.length > 60 ? `${text.slice(0, 59)}…` : text;
  }

  /** Keys of the group at a path, in the order written; empty where there is no group. */
  keys(path: readonly PropertyKey[]): string[] {
    const { node } = this.#find(path, "value");
    return isMap(node) ? node.items.map((pair) => keyText(pair.key)) : [];
  }

  #find(path: readonly PropertyKey[], part: "key" | "value"): { node: unknown; offset: number } {
    let node: unknown = this.root;
    let offset = this.root?.range?.[0] ?? 0;
    for (const [depth, step] of path.entries()) {
      const last = depth === path.length - 1;
      if (isMap(node)) {
        const pair = node.items.find((item) => keyText(item.key) === String(step));
        if (!isPair(pair)) return { node: undefined, offset };
        const keyOffset = rangeStart(pair.key) ?? offset;
        offset = last && part === "key" ? keyOffset : rangeStart(pair.value) ?? keyOffset;
        node = pair.value;
      } else if (isSeq(node)) {
        const item: unknown = node.items[Number(step)];
        if (item === undefined) return { node: undefined, offset };
        offset = rangeStart(item) ?? offset;
        node = item;
      } else {
        return { node: undefined, offset };
      }
    }
    return { node, offset };
  }

  #placeAt(offset: number): Place {
    const { line, col } = this.lines.linePos(offset);
    return { file: this.file, line: Math.max(line, 1), column: Math.max(col, 1) };
  }
}

/**
 * Reads a file's text. Faults of the YAML itself (a tab, a key twice, an open bracket) come as
 * problems; the document then holds what could be read. Where the text is not well formed, what a
 * schema would say about it means little.
 * @param file the name as the person would say it; only used in places
 */
export function readYaml(
  file: string,
  text: string,
): { document: YamlFile; problems: Problem[]; wellFormed: boolean } {
  const lines = new LineCounter();
  const parsed = parseDocument(text, {
    lineCounter: lines,
    prettyErrors: false,
    merge: false,
    logLevel: "error",
  });
  const faults = [...parsed.errors, ...parsed.warnings]
    .sort((one, other) => one.pos[0] - other.pos[0]);
  const sources = withoutConsequences(faults, ({ pos: [offset] }) => lines.linePos(offset).line);
  const problems = sources.map(({ code, message, pos: [offset] }): Problem => {
    // Where a file is one text, its end comes right after that: the text is what is wrong.
    const isText = code === AFTER_THE_END && isScalar(parsed.contents);
    const bareKey = code === KEY_IN_LINE ? keyBeforeBracket(text, offset) : undefined;
    const start = isText
      ? parsed.contents?.range?.[0] ?? offset
      : bareKey !== undefined
      ? bareKey
      : message.startsWith(OPEN_QUOTE)
      ? quotedTextOver(parsed, offset)
      : offset;
    const { line, col } = lines.linePos(start);
    return {
      kind: "wrong-value",
      place: { file, line: Math.max(line, 1), column: Math.max(col, 1) },
      found: excerptAt(text, start),
      expected: isText
        ? YAML_FAULTS.MULTILINE_IMPLICIT_KEY
        : bareKey !== undefined
        ? YAML_FAULTS[BARE_KEY]
        : expectedFor(code, message),
    };
  });
  let wellFormed = parsed.errors.every((fault) => fault.code === "DUPLICATE_KEY");
  let value: unknown;
  try {
    value = parsed.toJS({ maxAliasCount: 100 });
  } catch (error) {
    // Too many aliases, or an alias to nothing.
    if (!(error instanceof ReferenceError)) throw error;
    wellFormed = false;
    problems.push({
      kind: "wrong-value",
      place: { file, line: 1, column: 1 },
      found: excerptAt(text, 0),
      expected: expectedFor("", error.message),
    });
  }
  const document = new YamlFile(file, value, parsed.contents, text, lines);
  return { document, problems, wellFormed };
}

/** The library's message about a quoted text that goes on to the end of the file. */
const OPEN_QUOTE = "Missing closing";

/** Where the quoted text begins that ends at an offset. */
function quotedTextOver(parsed: Document, end: number): number {
  let start = end;
  visit(parsed, {
    Scalar(_, { type, range }) {
      const isQuoted = type === "QUOTE_DOUBLE" || type === "QUOTE_SINGLE";
      if (isQuoted && range && range[0] < end && end <= range[2]) start = range[0];
    },
  });
  return start;
}

/** The library's code for a colon within what it takes for a key. */
const KEY_IN_LINE = "BLOCK_AS_IMPLICIT_KEY";

/** Where the key begins that stands before an opening bracket, in the line of an offset. */
function keyBeforeBracket(text: string, offset: number): number | undefined {
  const start = text.lastIndexOf("\n", offset - 1) + 1;
  const indent = /^( *)[^\s:#{[]+ *[{[]/.exec(text.slice(start, offset))?.[1];
  return indent === undefined ? undefined : start + indent.length;
}

/** The library's code for what it finds where the document is over. */
const AFTER_THE_END = "UNEXPECTED_TOKEN";

/** Faults after which lines are not taken for what they were meant to be. */
const MISLEADING: readonly string[] = [
  "BAD_INDENT",
  "BLOCK_IN_FLOW",
  "MISSING_CHAR",
  "TAB_AS_INDENT",
  AFTER_THE_END,
];
/** Such faults, and those that a line has which is not taken for what it was meant to be. */
const MISLED: readonly string[] = [
  ...MISLEADING,
  KEY_IN_LINE,
  "MULTILINE_IMPLICIT_KEY",
];
const NEVER_CLOSED = /end with a [}\]]$|^Missing closing/;

/**
 * What follows a fault at the same place is its consequence, and so is the second colon of a line
 * after the first, and nearly all that follows one that misleads the reader; not that a bracket is
 * never closed, which may be where it all began.
 * @param faults in the order of the text
 */
function withoutConsequences(
  faults: readonly YAMLError[],
  lineOf: (fault: YAMLError) => number,
): readonly YAMLError[] {
  const isSame = (one: YAMLError, other: YAMLError) =>
    one.pos[0] === other.pos[0] ||
    one.code === KEY_IN_LINE && other.code === KEY_IN_LINE && lineOf(one) === lineOf(other);
  const misleads = faults.findIndex(({ code }) => MISLEADING.includes(code));
  return faults.filter((fault, i) =>
    faults.findIndex((first) => isSame(first, fault)) === i &&
    (misleads < 0 || i <= misleads || !MISLED.includes(fault.code) ||
      NEVER_CLOSED.test(fault.message))
  );
}

/** The library's message about a key without a colon. */
const BARE_KEY = "Implicit map keys need to be followed by map values";

/** What owners get wrong most, in their words; by the message of the `yaml` library or by its code. */
const YAML_FAULTS: Readonly<Record<string, string>> = {
  "Sequence item without - indicator":
    "a line that begins as far in as the one above, or with - like the item before",
  [BARE_KEY]: "a colon after the key",
  [KEY_IN_LINE]:
    "a line that begins no further in than the one above, and one colon in it; text with a colon " +
    "goes in quotes",
  "MULTILINE_IMPLICIT_KEY": "a colon and a blank after the key",
  "UNEXPECTED_TOKEN":
    "nothing more here; the line begins as far in as those beside it, and text with signs in it " +
    "goes in quotes",
  "BAD_SCALAR_START": "quotes around a text that begins with this sign",
  "TAG_RESOLVE_FAILED": "quotes around a text that begins with this sign",
  "BAD_INDENT": "a line that begins as far in as those beside it",
  "BLOCK_IN_FLOW": "a comma between the parts within the brackets",
};

function expectedFor(code: string, message: string): string {
  if (code === "DUPLICATE_KEY") return "each key once; this one is here already";
  if (code === "MULTIPLE_DOCS") return "one document; a second one begins here";
  if (code === "TAB_AS_INDENT") return "spaces; YAML does not take tabs";
  const bracket = /end with a ([}\]])$/.exec(message)?.[1];
  if (bracket !== undefined) return `a ${bracket} for the bracket that was opened before`;
  if (message.startsWith(OPEN_QUOTE)) return "the quote that is opened here to be closed";
  return YAML_FAULTS[message] ?? YAML_FAULTS[code] ??
    `readable YAML: ${message.charAt(0).toLowerCase()}${message.slice(1)}`;
}

function excerptAt(text: string, offset: number): string {
  const line = text.slice(offset).split("\n", 1)[0].trim();
  if (line === "") return "the end of the line";
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}

function keyText(key: unknown): string {
  return isScalar(key) ? String(key.value) : String(key);
}

function rangeStart(node: unknown): number | undefined {
  return isNode(node) ? node.range?.[0] : undefined;
}
