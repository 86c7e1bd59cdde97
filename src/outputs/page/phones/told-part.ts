import type { Role } from "../access/role.ts";
import { clockTime } from "../browser/ago.js";
import { type Micros, MILLISECOND } from "../../../ground/time.ts";
import { type Markup, markup, NOTHING } from "../markup.ts";
import { leaf, type Part } from "../part.ts";
import type { DeliveryLine, WhoWasTold } from "./who-was-told.ts";

/** Lines in sight; the rest is history. */
const MOST = 12;

const WORDS: Readonly<Record<DeliveryLine["state"], string>> = {
  queued: "has not been told yet",
  sent: "is being told",
  accepted: "was told",
  failed: "could not be told",
};

/** Who was told of what, when and by which way, or why not; and the button that tries every way. */
export function toldPart(
  { people, deliveries, isAshore }: WhoWasTold,
  role: Role,
  seen: Seen,
): Part {
  const note = people.length === 0
    ? "Nobody is told of alarms: there are no people in the settings."
    : deliveries.length === 0
    ? `Nothing had to be told yet. Told are: ${people.join(", ")}.`
    : "The newest first. “Told” means that the way has taken the message.";
  const hail = role === "watch" || people.length === 0
    ? NOTHING
    : markup`<form method="post" action="hail"><input type="hidden" name="token" value="">
<button id="hail">Send everybody a test</button></form>`;
  return leaf(
    "told",
    markup`<section id="told" aria-labelledby="told-title">
<h2 id="told-title">${isAshore ? "Who was told from ashore" : "Who was told"}</h2>
<p class="note">${note}${isAshore ? BY_HERSELF : ""}</p>
<ul class="plain">${deliveries.slice(0, MOST).map((line) => deliveryItem(line, seen))}</ul>
${hail}</section>`,
  );
}

const BY_HERSELF = " Whom the boat has told herself stands on her own page.";

interface Seen {
  readonly now: Micros;
  readonly timeZone: string;
}

function deliveryItem(
  { person, way, about, state, since, why }: DeliveryLine,
  { now, timeZone }: Seen,
): Markup {
  const clock = clockTime(since / MILLISECOND, now / MILLISECOND, timeZone);
  const reason = why === "" ? NOTHING : markup` <span class="distance">Because ${why}.</span>`;
  return markup`<li class="${state}"><span class="name">${person}</span> ${WORDS[state]}${
    byWay(way)
  }, ${clock}: ${about}${reason}</li>
`;
}

/** No way has it yet, or none took it. */
function byWay(way: string): string {
  return way === "" ? "" : ` by ${way}`;
}
