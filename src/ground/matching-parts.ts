/** A part of a document and where it is. */
export interface Part {
  readonly path: readonly string[];
  readonly value: unknown;
}

/**
 * The parts of a plain document that a pattern names: `chargers.*.charges` is what each charger
 * charges. Parts that are not there are left out.
 */
export function matchingParts(document: unknown, pattern: string): Part[] {
  return pattern.split(".").reduce<Part[]>(
    (parts, step) => parts.flatMap((part) => stepFrom(part, step)),
    [{ path: [], value: document }],
  );
}

function stepFrom({ path, value }: Part, step: string): Part[] {
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value)
    .filter(([key]) => step === "*" || key === step)
    .map(([key, member]) => ({ path: [...path, key], value: member }));
}
