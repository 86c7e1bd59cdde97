/** `engine/port` of `engine/port/oil-pressure`, `position` of `position/latitude`. */
export function thingOf(name: string): string {
  const parts = name.split("/");
  const status = parts.indexOf("status");
  return parts.slice(0, status > 0 ? status : -1).join("/");
}

export function isStatusBit(name: string): boolean {
  return name.includes("/status/");
}

/** Signals that share a row of a table. */
export interface SignalRow {
  readonly title: string;
  readonly names: readonly string[];
}

/**
 * One row a signal, in the order of their names; the status bits of one thing share one where they
 * fare alike.
 * @param fare what stands beside a name; one and the same text for those that fare alike
 */
export function foldStatusBits(
  names: readonly string[],
  fare: (name: string) => string,
): SignalRow[] {
  const together = new Map<string, string[]>();
  for (const name of names) {
    const key = isStatusBit(name) ? JSON.stringify([thingOf(name), fare(name)]) : name;
    const row = together.get(key) ?? [];
    row.push(name);
    together.set(key, row);
  }
  return [...together.values()].map((row) => {
    const title = row.length === 1 ? row[0] : `${thingOf(row[0])}/status/ (${row.length} bits)`;
    return { title, names: row };
  });
}
