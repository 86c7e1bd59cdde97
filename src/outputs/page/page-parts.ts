import type { BoatView, SubjectLines } from "./boat-view.ts";
import type { Role } from "./access/role.ts";
import { alarmPart } from "./alarm-part.ts";
import { conditionPart } from "./answering/condition-form.ts";
import { headline } from "./headline.ts";
import { markup, NOTHING } from "./markup.ts";
import { linkPart } from "./link-part.ts";
import { leaf, type Part } from "./part.ts";
import { proofPart } from "./proof-part.ts";
import { roomPart } from "./room-part.ts";
import { toldPart } from "./phones/told-part.ts";
import { signalPart } from "./signal-part.ts";

/**
 * The part of the page that changes, as a tree whose pieces can be sent one by one. It is the same
 * for everybody of one role.
 */
export function pageParts(view: BoatView, role: Role): Part {
  return {
    id: "main",
    before: `<main id="main">`,
    children: [
      linkPart(view),
      headlinePart(view),
      ...(view.condition === undefined
        ? []
        : [conditionPart(view.condition, view.winterised === true, role)]),
      alarmsPart(view, role),
      roomsPart(view),
      ...(view.proofs === undefined ? [] : [proofPart(view.proofs, view)]),
      ...(view.told === undefined ? [] : [toldPart(view.told, role, view)]),
      signalsPart(view),
    ],
    after: "</main>",
  };
}

function headlinePart({ alarms, watch }: BoatView): Part {
  const unjudged = (watch.unjudged ?? []).map(({ title, about, reason }) =>
    markup`<li>${title}${about === "" ? "" : `, ${about}`}${
      reason === "" ? "" : `: ${reason}`
    }</li>`
  );
  const which = unjudged.length === 0 ? NOTHING : markup`<details id="unjudged">
<summary>Which cannot be judged, and why</summary>
<ul>${unjudged}</ul>
</details>`;
  return leaf(
    "summary",
    markup`<div id="summary"><p class="headline">${headline(alarms, watch)}</p>${which}</div>`,
  );
}

function alarmsPart(view: BoatView, role: Role): Part {
  const parts = view.alarms.map((line) => alarmPart(line, view, role));
  return {
    id: "alarms",
    before: `<section id="alarms" aria-label="Alarms"><div id="alarms-list">`,
    children: parts,
    after: "</div></section>",
  };
}

function roomsPart({ rooms, roomLeft }: BoatView): Part {
  const note = roomLeft === undefined
    ? "How far each watched signal is from its nearest limit stands on her own page."
    : rooms.length === 0
    ? "No rule with a limit is being judged."
    : "How far each watched signal is from its nearest limit, least room first. The heavy stretch " +
      "is the room left; hatching lies beyond a limit.";
  return {
    id: "room",
    before: markup`<section id="room" aria-labelledby="room-title">
<h2 id="room-title">Room left</h2>
<p class="note">${note}</p>
<ol id="room-list">`.text,
    children: rooms.map(roomPart),
    after: "</ol></section>",
  };
}

function signalsPart({ subjects }: BoatView): Part {
  const note = subjects.length === 0
    ? "Nothing has been heard yet."
    : "A value with no remark beside it is good; the age is that of its last message.";
  return {
    id: "signals",
    before: markup`<section id="signals" aria-labelledby="signals-title">
<h2 id="signals-title">Signals</h2>
<p class="note">${note}</p>
<div id="signals-list">`.text,
    children: subjects.map(subjectPart),
    after: "</div></section>",
  };
}

function subjectPart({ id, title, signals }: SubjectLines): Part {
  return {
    id,
    before: markup`<table id="${id}">
<caption>${title}</caption>
<thead><tr><th scope="col">Signal</th><th scope="col">Value</th><th scope="col">Heard</th></tr></thead>
<tbody id="${id}-list">`.text,
    children: signals.map(signalPart),
    after: "</tbody></table>",
  };
}
