/** Text that is already HTML; everything else is escaped when it is put into `html`. */
export class Html {
  constructor(readonly text: string) {}

  toString(): string {
    return this.text;
  }
}

type Insert = string | number | Html | readonly Html[];

/** A template whose inserts are escaped, for element content and quoted attributes alike. */
export function html(strings: TemplateStringsArray, ...inserts: readonly Insert[]): Html {
  let text = strings[0];
  inserts.forEach((insert, i) => {
    text += written(insert) + strings[i + 1];
  });
  return new Html(text);
}

export const NOTHING = new Html("");

function written(insert: Insert): string {
  if (insert instanceof Html) return insert.text;
  if (typeof insert === "object") return insert.map((part) => part.text).join("");
  return escapeHtml(String(insert));
}

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function escapeHtml(text: string): string {
  return text.replaceAll(/[&<>"']/g, (character) => ESCAPES[character]);
}
