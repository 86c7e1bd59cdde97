import { MILLISECOND } from "../../ground/time.ts";
import { hatchPattern } from "../../drawing/room-left.ts";
import { asksForAnswer } from "./alarm-words.ts";
import type { BoatView } from "./boat-view.ts";
import { Markup, markup, NOTHING } from "./markup.ts";
import { pageParts } from "./page-parts.ts";
import { writePart } from "./part.ts";
import { fillTimes } from "./time-element.ts";

/** The whole page as a browser first gets it; complete without a script. */
export function pageDocument(view: BoatView): string {
  const main = new Markup(fillTimes(writePart(pageParts(view)), view.now));
  return documentOf(
    documentTitle(view),
    markup`<header>
<h1>${view.boat}</h1>
${LIGHT}
${view.demo ? markup`<p class="demo">${DEMO}</p>` : NOTHING}
<p id="stale" hidden></p>
<p id="notice" role="status" hidden></p>
<p id="announce" class="unseen" role="alert"></p>
</header>
${main}
<footer>
<h2>What this page cannot do</h2>
<ul>${CAUTIONS.map((text) => markup`<li>${text}</li>`)}</ul>
</footer>
${new Markup(hatchPattern)}`,
    markup` data-now="${Math.floor(view.now / MILLISECOND)}" data-time-zone="${view.timeZone}"`,
  );
}

/** A page with one sentence, for a browser that sent a form and cannot be answered otherwise. */
export function sentenceDocument(title: string, sentence: string): string {
  return documentOf(
    title,
    markup`<main><h1>${title}</h1><p>${sentence}</p><p><a href="/">Back to the boat</a></p></main>`,
    NOTHING,
  );
}

/** `(1) Hazel Comfort`: how many alarms wait for an answer, in sight on a tab. */
export function documentTitle({ boat, alarms }: BoatView): string {
  const open = alarms.filter(({ status }) => asksForAnswer(status)).length;
  return open === 0 ? boat : `(${open}) ${boat}`;
}

const DEMO = "This is a made-up boat, simulated on this computer. No bus is read.";

/** Shown by the script, because only that can make the choice hold. */
const LIGHT = markup`<label id="light" hidden>Light
<select><option value="">as this device</option><option value="day">day</option>
<option value="night">night</option><option value="red">night, red</option></select></label>`;

const CAUTIONS = [
  "It tells; it does not act. A bilge alarm pumps no water, an engine alarm stops no engine.",
  "It does not replace the alarms at the helm, the gauges, or a look below.",
  "Petrol vapour: touch no switch, start nothing, get everybody off, then call for help. " +
  "Nothing here senses vapour.",
  "A signal is only as good as its sender and its wire. When page and gauge differ, believe the " +
  "worse.",
];

function documentOf(title: string, body: Markup, facts: Markup): string {
  return markup`<!doctype html>
<html lang="en"${facts}>
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<link rel="icon" href="/mark.svg" type="image/svg+xml">
<link rel="stylesheet" href="/colours.css">
<link rel="stylesheet" href="/page.css">
<link rel="stylesheet" href="/lists.css">
<script src="/light.js"></script>
<script type="module" src="/page.js"></script>
</head>
<body>
${body}
</body>
</html>
`.text;
}
