const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

const BEFORE_UNIT = /(?<=\d) (?=[%°\p{L}])/gu;

/** Text as it can stand in an element or a quoted attribute; no line ends between number and unit. */
export function htmlText(text: string): string {
  return text.replaceAll(BEFORE_UNIT, "\u00a0")
    .replaceAll(/[&<>"']/g, (character) => ESCAPES[character]);
}

/** A table with one heading row; empty where there are no rows. */
export function htmlTable(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  if (rows.length === 0) return "";
  const head = heads.map((text) => `<th scope="col">${htmlText(text)}</th>`).join("");
  const body = rows.map((row) =>
    `<tr>${
      row.map((cell, i) =>
        i === 0 ? `<th scope="row">${htmlText(cell)}</th>` : `<td>${htmlText(cell)}</td>`
      ).join("")
    }</tr>`
  ).join("\n");
  return `<div class="wide"><table><thead><tr>${head}</tr></thead><tbody>\n${body}\n</tbody></table></div>`;
}

/** A sentence begins with a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
