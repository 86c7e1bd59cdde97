import { aboutWords, PRIORITY_ON_SCREEN, stateOnScreen } from "../alarm-words.ts";
import { clockTime } from "../browser/ago.js";
import { type Micros, MILLISECOND } from "../../../ground/time.ts";
import { type Markup, markup, NOTHING } from "../markup.ts";
import { documentOf } from "../page-frame.ts";
import { responseList } from "../response-list.ts";
import type { LinkSubject } from "./answer-links.ts";
import { LINK_BUTTON, whyMoot } from "./link-words.ts";

type Usable = Extract<LinkSubject, { usable: true }>;

/**
 * What a link shows: which boat, what, since when, what to do, and the one button that acts. A mail
 * scanner that follows it changes nothing.
 * @param said a sentence about what was just done; empty before
 */
export function linkDocument(
  subject: Usable,
  said: string,
  { now, timeZone }: { readonly now: Micros; readonly timeZone: string },
): string {
  const { claims, boat, status, title = "An alarm" } = subject;
  const moot = whyMoot(claims, status);
  const about = status === undefined ? "" : aboutWords(status.signal, status.subject);
  const heading = about === "" ? title : `${title}, ${about}`;
  const raised = status?.raised ?? null;
  const clock = (at: Micros) => clockTime(at / MILLISECOND, now / MILLISECOND, timeZone);
  return documentOf(
    boat,
    markup`<main class="short"><h1>${boat}</h1>
${said === "" ? NOTHING : markup`<p class="said" role="status">${said}</p>`}
<article class="${status?.priority ?? ""}">
${
      status === undefined
        ? NOTHING
        : markup`<p class="kind"><strong>${PRIORITY_ON_SCREEN[status.priority]}</strong>, ${
          stateOnScreen(status)
        }</p>`
    }
<h2>${heading}</h2>
${status === undefined ? NOTHING : paragraph(status.message)}
${raised === null ? NOTHING : paragraph(`Since ${clock(raised)}.`)}
${paragraph(status?.consequence ?? "")}
${status === undefined ? NOTHING : responseList(status.response)}
</article>
${said !== "" ? NOTHING : moot !== undefined ? paragraph(moot) : button(subject)}
${TO_THE_PAGE}
</main>`,
  );
}

function button({ claims: { action, person }, isProven }: Usable): Markup {
  const whose = isProven
    ? `Answers as ${person}.`
    : "It is sent on to the boat, which checks the link. What is wrong stands in your message.";
  return markup`<form method="post">
<button>${LINK_BUTTON[action]}</button>
<p class="note">${whose} Nothing happens before you press it.</p>
</form>`;
}

/** For whoever wants to know more than a link shows; it may ask who is there. */
const TO_THE_PAGE = markup`<p><a href="/">Open the whole page</a></p>`;

/** A link that cannot be used, politely. */
export function refusedLinkDocument(sentence: string): string {
  return documentOf(
    "Not answered",
    markup`<main class="short"><h1>Not answered</h1>
<p>${sentence}</p>
${TO_THE_PAGE}
</main>`,
  );
}

function paragraph(text: string): Markup {
  return text === "" ? NOTHING : markup`<p>${text}</p>`;
}
