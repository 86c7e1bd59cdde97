/** Text that is already HTML; everything else is escaped when it is put into `markup`. */
export class Markup {
  constructor(readonly text: string) {}

  toString(): string {
    return this.text;
  }
}

type Insert = string | number | Markup | readonly Markup[];

/**
 * A template of HTML whose inserts are escaped, for element content and quoted attributes alike.
 * (It is not called `html`: the formatter would then move white space about in it.)
 */
export function markup(strings: TemplateStringsArray, ...inserts: readonly Insert[]): Markup {
  let text = strings[0];
  inserts.forEach((insert, i) => {
    text += written(insert) + strings[i + 1];
  });
  return new Markup(text);
}

export const NOTHING = new Markup("");

function written(insert: Insert): string {
  if (insert instanceof Markup) return insert.text;
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
