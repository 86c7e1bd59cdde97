import type { Role } from "../access/role.ts";
import { type Markup, markup, NOTHING } from "../markup.ts";

/**
 * Where a script offers to tell this device of alarms, or says why it cannot. Without a script it
 * says that one is needed: a push message is shown by a script.
 * Whoever only watches is offered nothing: what a device is told carries links that answer.
 */
export function thisPhone(role: Role): Markup {
  return role === "watch" ? NOTHING : SECTION;
}

const SECTION = markup`<section id="this-phone" aria-labelledby="this-phone-title">
<h2 id="this-phone-title">This device</h2>
<p class="note" id="push-words" role="status">To be told of alarms here, this browser needs its
scripts switched on.</p>
<form id="push-form" hidden>
<label>Whose is it? <select id="push-person"></select></label>
<button id="push-begin" type="button">Tell this device of alarms</button>
<button id="push-end" type="button" hidden>Tell this device no more</button>
</form>
</section>`;
