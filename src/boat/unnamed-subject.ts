import type { CatalogueEntry, KeyField } from "./catalogue/entry.ts";
import type { KeyValue } from "./heard-key.ts";
import { type NamedSubject, topicWord } from "./naming.ts";
import type { Sender } from "./subject-match.ts";

/** What a key adds to the name of an unnamed subject. */
export function saidOf({ field, unsaid }: KeyField, values: ReadonlyMap<string, KeyValue>): string {
  const value = values.get(field);
  return unsaid === "always" || value?.number === unsaid ? "" : value?.text ?? "";
}

/** The first and the second engine of a bus have these addresses (SAE J1939, preferred addresses). */
const ENGINE_ADDRESSES: readonly number[] = [0, 1];

/** A subject of J1939 is called by bus and address. */
export function unnamedByAddress(entry: CatalogueEntry, { bus, address }: Sender): NamedSubject {
  const { group, elseGroup = group } = entry;
  return {
    group: ENGINE_ADDRESSES.includes(address) ? group : elseGroup,
    name: `${topicWord(bus)}-${address}`,
    described: null,
  };
}
