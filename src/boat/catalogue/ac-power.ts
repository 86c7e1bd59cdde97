import { type CatalogueEntry, type CatalogueSignal, INSTANCE, named, optional } from "./entry.ts";

/** The first line is the usual one and goes without saying. */
const LINES: Readonly<Record<string, string>> = {
  "line-1": "",
  "line-2": "line-2-",
  "line-3": "line-3-",
};

const PHASES = ["a", "b", "c"];

/** Alternating current. The shore connection is an input; what an inverter makes is an output. */
export const AC_POWER_ENTRIES: readonly CatalogueEntry[] = [
  ...eachLine(127503, "shore-power", "acceptability"),
  ...eachLine(127504, "ac-output", "waveform"),
  ...PHASES.map((phase, i) =>
    connection(127744 + i, [
      named("current", `phase-${phase}-current`, "current"),
      named("power", `phase-${phase}-power`, "power"),
    ])
  ),
  ...PHASES.map((phase, i) =>
    connection(127747 + i, [
      named("voltage", `phase-${phase}-voltage`, "ac-voltage"),
      named("line-to-line-voltage", `phase-${phase}-line-to-line-voltage`, "ac-voltage"),
      named("frequency", `phase-${phase}-frequency`, "frequency"),
    ])
  ),
];

function eachLine(pgn: number, group: string, state: string): CatalogueEntry[] {
  return Object.entries(LINES).map(([line, prefix]) => ({
    pgn,
    when: { line },
    repeated: true,
    group,
    keys: [INSTANCE],
    signals: [
      named(state, `${prefix}${state}`, "state"),
      named("voltage", `${prefix}voltage`, "ac-voltage"),
      named("current", `${prefix}current`, "current"),
      named("frequency", `${prefix}frequency`, "frequency"),
      named("real-power", `${prefix}power`, "power"),
      ...optional(
        named("breaker-size", `${prefix}breaker-size`, "current"),
        named("power-factor", `${prefix}power-factor`, "factor"),
      ),
    ],
  }));
}

function connection(pgn: number, signals: readonly CatalogueSignal[]): CatalogueEntry {
  return { pgn, group: "ac-connection", keys: [INSTANCE], signals };
}
