import { MILLISECOND } from "../../ground/time.ts";
import { hatchPattern } from "../../drawing/room-left.ts";
import type { Visitor } from "./access/role.ts";
import { signOutForm } from "./access/sign-out-form.ts";
import { asksForAnswer } from "./alarm-words.ts";
import type { BoatView } from "./boat-view.ts";
import { fillToken } from "./form-token.ts";
import { Markup, markup, NOTHING } from "./markup.ts";
import { documentOf } from "./page-frame.ts";
import { pageParts } from "./page-parts.ts";
import { writePart } from "./part.ts";
import { thisPhone } from "./phones/this-phone.ts";
import { fillTimes } from "./time-element.ts";

/**
 * The whole page as a browser first gets it; complete without a script.
 * @param isOneOfMany true where there is a list of boats to go back to
 */
export function pageDocument(view: BoatView, visitor: Visitor, isOneOfMany = false): string {
  const parts = pageParts(view, visitor.role);
  const main = new Markup(fillTimes(writePart(parts), view.now));
  const page = documentOf(
    documentTitle(view),
    markup`<header>
<h1>${view.boat}</h1>
${LIGHT}
${view.demo ? markup`<p class="demo">${DEMO}</p>` : NOTHING}
${isOneOfMany ? markup`<p class="note"><a href="/">All boats</a></p>` : NOTHING}
<p id="stale" hidden></p>
<p id="notice" role="status" hidden></p>
<p id="announce" class="unseen" role="alert"></p>
</header>
${main}
${thisPhone(visitor.role)}
<footer>
<h2>What this page cannot do</h2>
<ul>${CAUTIONS.map((text) => markup`<li>${text}</li>`)}</ul>
${signOutForm(visitor)}
</footer>
${new Markup(hatchPattern)}`,
    markup` data-now="${
      Math.floor(view.now / MILLISECOND)
    }" data-time-zone="${view.timeZone}" data-token="${visitor.formToken}"`,
  );
  return fillToken(page, visitor);
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
