/** Columns of the paper that a report is printed on. */
export const PAPER_WIDTH = 100;

/** A heading with a line under it, and what stands below; nothing where nothing does. */
export function chapter(title: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : ["", title, "─".repeat(title.length), ...lines];
}

/** A first column narrower than this is not worth giving way. */
const NARROW = 24;

/**
 * Rows of text under each other, two spaces in, each column as wide as its widest cell. Where they
 * are wider than the paper, the first column gives way: what is too long for it stands on a line of
 * its own. What still comes to stand beyond the paper is cut off with "…".
 */
export function table(rows: readonly (readonly string[])[]): string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from(
    { length: count },
    (_, i) => Math.max(...rows.map((row) => (row[i] ?? "").length)),
  );
  const beyond = widths.reduce((sum, width) => sum + 2 + width, 0) - PAPER_WIDTH;
  if (beyond > 0 && widths[0] - beyond >= NARROW) widths[0] -= beyond;
  return rows.flatMap((row) => {
    const [first = "", ...rest] = row;
    const isAlone = first.length > widths[0];
    const cells = isAlone ? ["", ...rest] : row;
    const line = `  ${cells.map((cell, i) => cell.padEnd(widths[i])).join("  ")}`.trimEnd();
    const fitting = line.length > PAPER_WIDTH ? `${line.slice(0, PAPER_WIDTH - 1)}…` : line;
    return isAlone ? [`  ${first}`, fitting] : [fitting];
  });
}

/** A sentence in lines that fit the paper, so many spaces in. */
export function paragraph(text: string, indent = 0): string[] {
  const space = " ".repeat(indent);
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < PAPER_WIDTH) {
      lines[lines.length - 1] = `${last} ${word}`;
    } else {
      lines.push(space + word);
    }
  }
  return lines;
}

/** `3 messages`, `1 message`. */
export function sayCount(count: number, one: string): string {
  return `${count.toLocaleString("en")} ${one}${count === 1 ? "" : "s"}`;
}
