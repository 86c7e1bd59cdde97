import type { Field, Plausible, Tail, WireUnit } from "../row.ts";

/** A field of a row before its place is known. */
export type Unplaced = Field extends infer F ? F extends Field ? Omit<F, "bit"> : never : never;

/** Lays fields one after another from bit 0, as the standards' own lists are written. */
export function inOrder(...fields: readonly Unplaced[]): readonly Field[] {
  let bit = 0;
  return fields.map((field) => {
    const placed = { ...field, bit };
    bit += field.width;
    return placed;
  });
}

/** A tail that says these fields again and again; together they fill whole bytes. */
export function groupsOf(
  name: string,
  { count }: { readonly count?: string },
  ...fields: readonly Unplaced[]
): Tail {
  const bits = fields.reduce((sum, { width }) => sum + width, 0);
  return { kind: "groups", name, length: bits / 8, count, fields: inOrder(...fields) };
}

export function unsigned(name: string, width: number, resolution: number, unit: WireUnit) {
  return { kind: "number", name, width, resolution, unit } as const;
}

export function signed(name: string, width: number, resolution: number, unit: WireUnit) {
  return { kind: "number", name, width, resolution, unit, signed: true } as const;
}

/** Says which values a quantity can have in or near a boat; either end may be left open. */
export function within<F extends Unplaced>(
  least: number | undefined,
  most: number | undefined,
  field: F,
): F & { readonly plausible: Plausible } {
  return { ...field, plausible: { least, most } };
}

export function index(name: string, width = 8) {
  return { kind: "index", name, width } as const;
}

/** Words by code, from code 0. */
export function words(name: string, width: number, ...list: readonly string[]) {
  return { kind: "words", name, width, words: Object.fromEntries(list.entries()) } as const;
}

/** Two bits that say off, on, error or "not available". */
export function onOff(name: string) {
  return words(name, 2, "off", "on");
}

/** Names by bit, from bit 0; bits beyond the list are not read. */
export function bits(name: string, width: number, ...list: readonly (string | null)[]) {
  return { kind: "bits", name, width, bits: list } as const;
}

export function text(name: string, bytes: number) {
  return { kind: "text", name, width: bytes * 8 } as const;
}

export function reserved(width: number, name = "reserved") {
  return { kind: "reserved", name, width } as const;
}

/** Ties messages of one measurement together. */
export function sequenceIdentifier() {
  return index("sequence-identifier");
}
