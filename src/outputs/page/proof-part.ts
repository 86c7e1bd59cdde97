import { type Micros, MILLISECOND } from "../../ground/time.ts";
import type { BoatView, ProofLine } from "./boat-view.ts";
import { type Markup, markup } from "./markup.ts";
import { leaf, type Part } from "./part.ts";

/** When each alarm last really sounded, those that want to be tried first. */
export function proofPart(
  proofs: readonly ProofLine[],
  { now, timeZone }: Pick<BoatView, "now" | "timeZone">,
): Part {
  const due = proofs.filter((line) => isDue(line, now)).length;
  const summary = proofs.length === 0
    ? "No alarm asks for an answer."
    : due === 0
    ? `None of ${proofs.length} wants to be tried yet. Which, and when`
    : `To be tried now: ${due} of ${proofs.length}. Which, and when`;
  const note =
    "Make each sound every half year: lift the float by hand, pull a plug, warm a sender. " +
    "Rehearsals and made-up boats do not count.";
  return leaf(
    "proofs",
    markup`<section id="proofs" aria-labelledby="proofs-title">
<h2 id="proofs-title">When alarms last sounded</h2>
<p class="note">${note}</p>
<details id="proofs-list"><summary>${summary}</summary>
<ul class="plain">${proofs.map((line) => proofItem(line, now, timeZone))}</ul></details></section>`,
  );
}

function proofItem(line: ProofLine, now: Micros, timeZone: string): Markup {
  const { title, about, sounded, due } = line;
  const last = sounded === null ? "never heard" : `sounded ${dateOf(sounded, timeZone)}`;
  const next = isDue(line, now) ? "try it now" : `try it by ${dateOf(due, timeZone)}`;
  return markup`<li><span class="name">${title}${
    about === "" ? "" : `, ${about}`
  }</span> <span class="distance">${last}; ${next}</span></li>
`;
}

function isDue({ due }: ProofLine, now: Micros): boolean {
  return now > due;
}

function dateOf(at: Micros, timeZone: string): string {
  return new Intl.DateTimeFormat("en-GB", { dateStyle: "long", timeZone })
    .format(at / MILLISECOND);
}
