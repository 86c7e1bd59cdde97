import type { Key, Subject } from "../boat.ts";

/** Facts that an owner may have given; those that are undefined are left out. */
type Facts<T> = Readonly<Record<string, T | undefined>>;

interface Parts {
  readonly keys: readonly Key[];
  readonly words?: Facts<string>;
  readonly numbers?: Facts<number>;
  readonly relations?: Facts<string>;
}

export function subject(group: string, name: string, parts: Parts): Subject {
  return {
    group,
    name,
    keys: parts.keys,
    words: given(parts.words),
    numbers: given(parts.numbers),
    relations: given(parts.relations),
  };
}

function given<T>(facts: Facts<T> = {}): Record<string, T> {
  const result: Record<string, T> = {};
  for (const [name, fact] of Object.entries(facts)) {
    if (fact !== undefined) result[name] = fact;
  }
  return result;
}
