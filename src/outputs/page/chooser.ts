import { fillToken } from "./form-token.ts";
import type { Visitor } from "./access/role.ts";
import { asksForAnswer } from "./alarm-words.ts";
import type { BoatPage } from "./boat-page.ts";
import type { BoatView } from "./boat-view.ts";
import { headline } from "./headline.ts";
import { linkWords } from "./link-part.ts";
import { markup } from "./markup.ts";
import { documentOf } from "./page-frame.ts";
import { signOutForm } from "./access/sign-out-form.ts";

/**
 * The boats that are followed, each with its state in a sentence; those first whose alarms ask for an
 * answer. Complete without a script.
 */
export function chooserDocument(boats: ReadonlyMap<string, BoatPage>, visitor: Visitor): string {
  const lines = [...boats].map(([name, { feed }]) => ({ name, view: feed.current.view }))
    .toSorted((one, other) =>
      openIn(other.view) - openIn(one.view) || one.name.localeCompare(other.name)
    )
    .map(({ name, view }) => boatLine(name, view));
  const page = documentOf(
    "Boats",
    markup`<header><h1>Boats</h1>${signOutForm(visitor)}</header>
<main><ul class="boats">${lines}</ul>
<p class="note">${lines.length === 0 ? "No boat has been heard yet." : ""}</p></main>`,
  );
  return fillToken(page, visitor);
}

function openIn({ alarms }: BoatView): number {
  return alarms.filter(({ status }) => asksForAnswer(status)).length;
}

function boatLine(name: string, view: BoatView) {
  return markup`<li><a href="/boat/${name}/">${view.boat}</a>
<p>${headline(view.alarms, view.watch)}</p>
<p class="note">${linkWords(view)}</p></li>
`;
}
