import type { Place } from "../../ground/problem.ts";
import type { WrittenFile } from "../../ground/yaml-file.ts";

type Path = readonly PropertyKey[];
type Group = Readonly<Record<string, unknown>>;

/** One rule as it is written, in a pack and in the file that uses it, or in one of them. */
interface Source {
  readonly own: Written | null;
  readonly pack: Written | null;
}

interface Written {
  readonly document: WrittenFile;
  /** Place in the list of alarms. */
  readonly index: number;
  readonly entry: Group;
}

/** Groups of a rule of which a single key can be replaced; everything else is replaced whole. */
export interface Merging {
  readonly tests: readonly string[];
  readonly groups: readonly string[];
}

/**
 * A rule file and the packs that it uses as one file: a rule with a used tag replaces only the fields
 * that it gives. Every part still knows where it is written.
 */
export class MergedFile implements WrittenFile {
  readonly value: Group;
  readonly #own: WrittenFile;
  readonly #sources: readonly Source[];
  readonly #merging: Merging;

  /** @param packs in the order in which they are used; of one tag the last counts */
  constructor(own: WrittenFile, packs: readonly WrittenFile[], merging: Merging) {
    this.#own = own;
    this.#merging = merging;
    const sources = new Map<unknown, Source>();
    for (const document of packs) {
      for (const pack of entriesOf(document)) sources.set(pack.entry.tag, { own: null, pack });
    }
    const extra: Source[] = [];
    for (const one of entriesOf(own)) {
      const source = sources.get(one.entry.tag);
      // A tag that stands twice in one file is for the checks to find.
      if (source?.own === null) sources.set(one.entry.tag, { own: one, pack: source.pack });
      else extra.push({ own: one, pack: null });
    }
    this.#sources = [...sources.values(), ...extra];
    this.value = {
      ...(isGroup(own.value) ? own.value : {}),
      alarms: this.#sources.map((source) => this.#merged(source)),
    };
  }

  place(path: Path, part: "key" | "value"): Place {
    const { document, path: inner } = this.#locate(path);
    return document.place(inner, part);
  }

  written(path: Path): string {
    const { document, path: inner } = this.#locate(path);
    return document.written(inner);
  }

  keys(path: Path): string[] {
    const source = this.#sourceOf(path);
    const isMerged = source?.own && source.pack && path.length <= 3;
    if (!isMerged) {
      const { document, path: inner } = this.#locate(path);
      return document.keys(inner);
    }
    const group = path.slice(2).reduce<unknown>(
      (value, key) => isGroup(value) ? value[String(key)] : undefined,
      this.#merged(source),
    );
    return isGroup(group) ? Object.keys(group) : [];
  }

  #merged({ own, pack }: Source): Group {
    if (own === null || pack === null) return own?.entry ?? pack?.entry ?? {};
    const { tests, groups } = this.#merging;
    const merged: Record<string, unknown> = { ...pack.entry };
    const test = tests.find((kind) => kind in own.entry);
    if (test !== undefined) { for (const kind of tests) if (kind !== test) delete merged[kind]; }
    for (const [key, value] of Object.entries(own.entry)) {
      const before = merged[key];
      const isJoined = groups.includes(key) && isGroup(before) && isGroup(value);
      merged[key] = isJoined ? { ...before, ...value } : value;
    }
    return merged;
  }

  #sourceOf(path: Path): Source | undefined {
    return path[0] === "alarms" && path.length > 1 ? this.#sources[Number(path[1])] : undefined;
  }

  /** The file in which a part is written: its own where that says anything of it. */
  #locate(path: Path): { document: WrittenFile; path: Path } {
    const source = this.#sourceOf(path);
    if (source === undefined) return { document: this.#own, path };
    const rest = path.slice(2);
    const { own, pack } = source;
    const from = own !== null && (pack === null || this.#says(own, rest)) ? own : pack ?? own;
    if (from === null) return { document: this.#own, path };
    return { document: from.document, path: ["alarms", from.index, ...rest] };
  }

  #says({ entry }: Written, rest: Path): boolean {
    if (rest.length === 0) return true;
    const [key, inner] = rest.map(String);
    if (!(key in entry)) return false;
    const group = entry[key];
    return rest.length === 1 || !this.#merging.groups.includes(key) || !isGroup(group) ||
      inner in group;
  }
}

function entriesOf(document: WrittenFile): Written[] {
  const { value } = document;
  if (!isGroup(value) || !Array.isArray(value.alarms)) return [];
  return value.alarms.map((entry: unknown, index) => ({
    document,
    index,
    entry: isGroup(entry) ? entry : { tag: entry },
  }));
}

function isGroup(value: unknown): value is Group {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
