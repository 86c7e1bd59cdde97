import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import { timeInWords } from "./browser/ago.js";
import { type Markup, markup } from "./markup.ts";

/**
 * A time whose words move on by themselves: left empty here, so that a part stays the same while
 * nothing but time passes, and filled in by `fillTimes` or by the browser.
 */
export function movingTime(at: Micros, form: "ago" | "for"): Markup {
  return markup`<time data-at="${wholeSecond(at)}" data-form="${form}"></time>`;
}

/** The same for a part's `heard`: the text before and after the number. */
export function heardTime(
  form: "ago" | "for",
): { readonly before: string; readonly after: string } {
  return { before: `<time class="heard" data-at="`, after: `" data-form="${form}"></time>` };
}

/** Milliseconds since the epoch, cut to the second: nothing on the page is said more finely. */
export function wholeSecond(at: Micros): number {
  return Math.floor(at / SECOND) * (SECOND / MILLISECOND);
}

/** Writes the words into every moving time of a page, so that it can be read without a script. */
export function fillTimes(page: string, now: Micros): string {
  return page.replaceAll(
    /(<time[^>]* data-at="(\d+)" data-form="(ago|for)">)(<\/time>)/g,
    (_, open: string, at: string, form: string, close: string) =>
      open + timeInWords(Number(at), now / MILLISECOND, form) + close,
  );
}
