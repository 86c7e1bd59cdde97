import type { Role } from "./access/role.ts";
import { announcements } from "./announcements.ts";
import type { BoatView } from "./boat-view.ts";
import { documentTitle } from "./document.ts";
import { MILLISECOND } from "../../ground/time.ts";
import { pageParts } from "./page-parts.ts";
import { changeBetween, type PageChange, type Part, writePart } from "./part.ts";

/** What one server-sent event carries. */
export interface PageMessage extends PageChange {
  /** The boat's time of day, milliseconds since the epoch. */
  readonly now: number;
  readonly title: string;
  /** Sentences for a screen reader. */
  readonly announce: readonly string[];
}

/** One published state of the page; drawn once for each role, and only if somebody looks. */
export class Shown {
  readonly #parts = new Map<Role, Part>();
  readonly next = Promise.withResolvers<Shown | undefined>();

  constructor(readonly view: BoatView) {}

  partsFor(role: Role): Part {
    const known = this.#parts.get(role);
    if (known !== undefined) return known;
    const parts = pageParts(this.view, role);
    this.#parts.set(role, parts);
    return parts;
  }
}

/**
 * The latest state of the page, and those who wait for the next. A slow browser skips states and
 * never makes a queue: each asks for what is latest when it is ready.
 */
export class Feed {
  #current: Shown;
  #closed = false;

  constructor(first: BoatView) {
    this.#current = new Shown(first);
  }

  get current(): Shown {
    return this.#current;
  }

  publish(view: BoatView): void {
    if (this.#closed) return;
    const before = this.#current;
    this.#current = new Shown(view);
    before.next.resolve(this.#current);
  }

  /** The latest state after `shown`, as soon as there is one; undefined once the feed is closed. */
  async after(shown: Shown): Promise<Shown | undefined> {
    if (shown === this.#current && await shown.next.promise === undefined) return undefined;
    return this.#closed ? undefined : this.#current;
  }

  close(): void {
    this.#closed = true;
    this.#current.next.resolve(undefined);
  }
}

/** What a browser that shows `from` must be told to show `to`; the whole page if it shows nothing. */
export function messageBetween(from: Shown | undefined, to: Shown, role: Role): PageMessage {
  const parts = to.partsFor(role);
  const change = from === undefined
    ? { replaced: { [parts.id]: writePart(parts) }, ordered: {}, heard: {} }
    : changeBetween(from.partsFor(role), parts);
  return {
    now: Math.floor(to.view.now / MILLISECOND),
    title: documentTitle(to.view),
    announce: announcements(from?.view, to.view),
    ...change,
  };
}
