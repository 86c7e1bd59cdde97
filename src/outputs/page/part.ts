import type { Markup } from "./markup.ts";

/**
 * An element of the page that can be sent by itself: `before`, then what lies inside, then `after`.
 * Ids are unique in the page. Children sit directly in the element of the id `ID-list`, which
 * `before` leaves open.
 */
export interface Part {
  readonly id: string;
  readonly before: string;
  readonly children: readonly Part[];
  /**
   * When what the part shows was last heard, in whole seconds as milliseconds since the epoch:
   * the `data-at` of its `<time class="heard">`, which `before` leaves open. It stands apart
   * because it moves on with every message although nothing else changes.
   */
  readonly heard?: number;
  readonly after: string;
}

/** What a browser must do to its page: in the order of the fields. */
export interface PageChange {
  /** Element id → its new HTML, whole. */
  readonly replaced: Readonly<Record<string, string>>;
  /** Part id → its children in order: ids, with the HTML of those that are new. */
  readonly ordered: Readonly<Record<string, readonly { id: string; html?: string }[]>>;
  /** Part id → when it was last heard. */
  readonly heard: Readonly<Record<string, number>>;
}

/** A part that is sent whole or not at all. */
export function leaf(id: string, content: Markup): Part {
  return { id, before: content.text, children: [], after: "" };
}

export function writePart(part: Part): string {
  return part.before + (part.heard ?? "") + part.children.map(writePart).join("") + part.after;
}

/** What changed from one page to the next; both have the same root. */
export function changeBetween(from: Part, to: Part): PageChange {
  const replaced: Record<string, string> = {};
  const ordered: Record<string, { id: string; html?: string }[]> = {};
  const heard: Record<string, number> = {};

  const compare = (old: Part, part: Part): void => {
    if (old === part) return;
    const sameShape = (old.heard === undefined) === (part.heard === undefined);
    if (old.before !== part.before || old.after !== part.after || !sameShape) {
      replaced[part.id] = writePart(part);
      return;
    }
    if (part.heard !== undefined && part.heard !== old.heard) heard[part.id] = part.heard;
    const known = new Map(old.children.map((child) => [child.id, child]));
    const sameOrder = old.children.length === part.children.length &&
      part.children.every((child, i) => child.id === old.children[i].id);
    if (!sameOrder) {
      ordered[part.id] = part.children.map((child) =>
        known.has(child.id) ? { id: child.id } : { id: child.id, html: writePart(child) }
      );
    }
    for (const child of part.children) {
      const before = known.get(child.id);
      if (before !== undefined) compare(before, child);
    }
  };
  compare(from, to);
  return { replaced, ordered, heard };
}
