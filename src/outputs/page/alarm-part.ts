import type { AlarmStatus } from "../../alarms/change.ts";
import { type Micros, MILLISECOND } from "../../ground/time.ts";
import type { Role } from "./access/role.ts";
import { asksForAnswer, PRIORITY_ON_SCREEN, stateOnScreen } from "./alarm-words.ts";
import { answerButtons } from "./answering/answer-buttons.ts";
import type { AlarmLine, BoatView } from "./boat-view.ts";
import { clockTime } from "./browser/ago.js";
import { type Markup, markup, NOTHING } from "./markup.ts";
import { leaf, type Part } from "./part.ts";
import { responseList } from "./response-list.ts";
import { movingTime } from "./time-element.ts";

/** One alarm with what it means, what to do, and for those who may act what can be answered. */
export function alarmPart(
  { status, about, canBeHeld }: AlarmLine,
  view: BoatView,
  role: Role,
): Part {
  const id = `alarm-${status.tag}--${status.subject}`;
  const open = asksForAnswer(status);
  const heading = about === "" ? NOTHING : markup`, <span class="about">${about}</span>`;
  return leaf(
    id,
    markup`<article id="${id}" class="${status.priority}${
      open ? " open" : ""
    }" aria-labelledby="${id}-title">
<p class="kind"><strong>${
      PRIORITY_ON_SCREEN[status.priority]
    }</strong><span class="comma">, </span>${stateOnScreen(status)}${until(status, view)}</p>
<h2 id="${id}-title">${status.title}${heading}</h2>
${status.state === "normal" ? NOTHING : paragraph("message", status.message)}
${since(status, view)}
${paragraph("consequence", status.consequence)}
${responseList(status.response)}
${role === "act" ? answerButtons(id, status, canBeHeld) : NOTHING}
</article>`,
  );
}

/** When it will be told again, where a person has put it aside. */
function until({ heldUntil }: AlarmStatus, view: BoatView): string {
  return heldUntil === undefined ? "" : ` until ${clockOf(heldUntil, view)}`;
}

/** An alarm that is normal is shown only where it was put aside. */
function since(status: AlarmStatus, view: BoatView): Markup {
  const { state, raised, changed } = status;
  if (state === "normal") return markup`<p class="since">Its condition is not there now.</p>`;
  if (raised === null) return NOTHING;
  const clock = (at: Micros) => clockOf(at, view);
  if (state === "returned-unacknowledged" && changed !== null) {
    return markup`<p class="since">From ${clock(raised)} to ${clock(changed)}, ${
      movingTime(changed, "ago")
    }</p>`;
  }
  return markup`<p class="since">Since ${clock(raised)}, ${movingTime(raised, "for")}</p>`;
}

function clockOf(at: Micros, { now, timeZone }: BoatView): string {
  return clockTime(at / MILLISECOND, now / MILLISECOND, timeZone);
}

function paragraph(name: string, text: string): Markup {
  return text === "" ? NOTHING : markup`<p class="${name}">${text}</p>`;
}
