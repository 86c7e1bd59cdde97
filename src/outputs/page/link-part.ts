import { MILLISECOND, SECOND } from "../../ground/time.ts";
import type { BoatView } from "./boat-view.ts";
import { clockTime, lengthInWords } from "./browser/ago.js";
import { markup } from "./markup.ts";
import { leaf, type Part } from "./part.ts";

/** A bus with an engine gateway on it speaks ten times a second; five seconds of nothing is news. */
export const QUIET_AFTER = 5 * SECOND;

/** Whether the boat is talking, and if not, since when. */
export function linkPart(view: BoatView): Part {
  const kind = isHeard(view) ? markup`` : markup` class="quiet"`;
  return leaf("link", markup`<p id="link"${kind}>${linkWords(view)}</p>`);
}

/** The same as one sentence. */
export function linkWords(view: BoatView): string {
  const { now, lastHeard, timeZone } = view;
  if (lastHeard === null) return "Nothing has been heard on the boat’s network yet.";
  const [at, until] = [lastHeard / MILLISECOND, now / MILLISECOND];
  if (isHeard(view)) return `Hearing the boat, ${clockTime(until, until, timeZone)} her time.`;
  return `Nothing on the boat’s network since ${clockTime(at, until, timeZone)}, ` +
    `${lengthInWords(until - at)} ago. Everything below is from then, not from now.`;
}

function isHeard({ now, lastHeard }: BoatView): boolean {
  return lastHeard !== null && now - lastHeard < QUIET_AFTER;
}
