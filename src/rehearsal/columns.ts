/** Rows of text under each other, each column as wide as its widest cell, two spaces in. */
export function columns(rows: readonly (readonly string[])[]): string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from(
    { length: count },
    (_, i) => Math.max(...rows.map((row) => (row[i] ?? "").length)),
  );
  return rows.map((row) =>
    `  ${row.map((cell, i) => cell.padEnd(widths[i])).join("  ")}`.trimEnd()
  );
}
