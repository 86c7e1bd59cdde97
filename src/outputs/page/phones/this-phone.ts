import { markup } from "../markup.ts";

/**
 * Where a script offers to tell this device of alarms, or says why it cannot. Without a script it
 * says that one is needed: a push message is shown by a script.
 */
export const THIS_PHONE = markup`<section id="this-phone" aria-labelledby="this-phone-title">
<h2 id="this-phone-title">This device</h2>
<p class="note" id="push-words" role="status">To be told of alarms here, this browser needs its
scripts switched on.</p>
<form id="push-form" hidden>
<label>Whose is it? <select id="push-person"></select></label>
<button id="push-begin" type="button">Tell this device of alarms</button>
<button id="push-end" type="button" hidden>Tell this device no more</button>
</form>
</section>`;
