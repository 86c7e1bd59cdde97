import { MILLISECOND, SECOND } from "../../ground/time.ts";
import type { BoatView } from "./boat-view.ts";
import { clockTime, lengthInWords } from "./browser/ago.js";
import { markup } from "./markup.ts";
import { leaf, type Part } from "./part.ts";

/** A bus with an engine gateway on it speaks ten times a second; five seconds of nothing is news. */
export const QUIET_AFTER = 5 * SECOND;

/** Whether the boat is talking, and if not, since when. */
export function linkPart({ now, lastHeard, timeZone }: BoatView): Part {
  if (lastHeard === null) {
    return leaf(
      "link",
      markup`<p id="link" class="quiet">Nothing has been heard on the boat’s network yet.</p>`,
    );
  }
  const [at, until] = [lastHeard / MILLISECOND, now / MILLISECOND];
  if (now - lastHeard < QUIET_AFTER) {
    return leaf(
      "link",
      markup`<p id="link">Hearing the boat, ${clockTime(until, until, timeZone)} her time.</p>`,
    );
  }
  const since = `Nothing on the boat’s network since ${clockTime(at, until, timeZone)}, ` +
    `${lengthInWords(until - at)} ago. Everything below is from then, not from now.`;
  return leaf("link", markup`<p id="link" class="quiet">${since}</p>`);
}
