import type { AlarmStatus } from "../../alarms/change.ts";
import { type Markup, markup, NOTHING } from "./markup.ts";

/** What to do, for whoever is aboard and for whoever is not: the page does not know who reads it. */
export function responseList({ aboard, ashore }: AlarmStatus["response"]): Markup {
  const lines = [["Aboard", aboard], ["Ashore", ashore]].filter(([, text]) => text !== "")
    .map(([where, text]) => markup`<div><dt>${where}</dt><dd>${text}</dd></div>`);
  return lines.length === 0 ? NOTHING : markup`<dl>${lines}</dl>`;
}
