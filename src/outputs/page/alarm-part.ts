import { MILLISECOND } from "../../ground/time.ts";
import { asksForAnswer, PRIORITY_ON_SCREEN, stateOnScreen } from "./alarm-words.ts";
import type { AlarmLine, BoatView } from "./boat-view.ts";
import { clockTime } from "./browser/ago.js";
import { type Html, html, NOTHING } from "./html.ts";
import { leaf, type Part } from "./part.ts";
import { movingTime } from "./time-element.ts";

/** One alarm with what it means, what to do, and the button that answers it. */
export function alarmPart({ status, about }: AlarmLine, view: BoatView): Part {
  const id = `alarm-${status.tag}--${status.subject}`;
  const open = asksForAnswer(status);
  return leaf(
    id,
    html`<article id="${id}" class="${status.priority}${
      open ? " open" : ""
    }" aria-labelledby="${id}-title">
<p class="kind"><strong>${PRIORITY_ON_SCREEN[status.priority]}</strong>, ${
      stateOnScreen(status)
    }</p>
<h2 id="${id}-title">${status.title}${
      about === "" ? NOTHING : html`
        <span class="about">${about}</span>
      `
    }</h2>
${paragraph("message", status.message)}
${since(status.raised, view)}
${paragraph("consequence", status.consequence)}
${response(status.response)}
${open ? answerForm(id, status) : NOTHING}
</article>`,
  );
}

function since(raised: number | null, { now, timeZone }: BoatView): Html {
  if (raised === null) return NOTHING;
  const clock = clockTime(raised / MILLISECOND, now / MILLISECOND, timeZone);
  return html`<p class="since">Since ${clock}, ${movingTime(raised, "for")}</p>`;
}

function response({ aboard, ashore }: AlarmLine["status"]["response"]): Html {
  const lines = [["Aboard", aboard], ["Ashore", ashore]].filter(([, text]) => text !== "")
    .map(([where, text]) =>
      html`
        <div>
          <dt>${where}</dt>
          <dd>${text}</dd>
        </div>
      `
    );
  return lines.length === 0 ? NOTHING : html`<dl>${lines}</dl>`;
}

function answerForm(id: string, { tag, subject, occurrence, title }: AlarmLine["status"]): Html {
  return html`
    <form method="post" action="/answer">
      <input type="hidden" name="tag" value="${tag}">
      <input type="hidden" name="subject" value="${subject}">
      <input type="hidden" name="occurrence" value="${occurrence}">
      <button
        id="${id}-answer">Answer: I know of it<span class="unseen">: ${title}</span></button>
    </form>
  `;
}

function paragraph(name: string, text: string): Html {
  return text === "" ? NOTHING : html`<p class="${name}">${text}</p>`;
}
