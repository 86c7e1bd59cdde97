import type { Reading } from "../../units/say.ts";
import type { SignalLine } from "./boat-view.ts";
import { type Html, html, NOTHING } from "./html.ts";
import type { Part } from "./part.ts";
import { heardTime, wholeSecond } from "./time-element.ts";

/** One signal: name and remark, value, and how long ago it was heard. */
export function signalPart(line: SignalLine): Part {
  const name = html`
    <tr id="${line.id}">
      <th scope="row">${line.name}
  `;
  const value = html`<td class="value">${valueCell(line.value)}</td>`;
  const remark = line.remark === "" ? NOTHING : html`
    <small>${line.remark}</small>
  `;
  if (line.heard === null) {
    const before = html`${name}${remark}</th>${value}<td class="age"></td></tr>`;
    return { id: line.id, before: before.text, children: [], after: "" };
  }
  const heard = wholeSecond(line.heard);
  if (line.lost) {
    const time = heardTime("for");
    return {
      id: line.id,
      before: html`
        ${name} <small>${line.remark}
      `.text + time.before,
      children: [],
      heard,
      after: time.after + html`</small></th>${value}<td class="age"></td></tr>`.text,
    };
  }
  const time = heardTime("ago");
  return {
    id: line.id,
    before: html`${name}${remark}</th>${value}<td class="age">`.text + time.before,
    children: [],
    heard,
    after: `${time.after}</td></tr>`,
  };
}

/** The number and its unit apart, so that numbers stand under one another. */
export function valueCell({ number, unit }: Reading): Html {
  if (number === "") return html`<span class="none">no reading</span>`;
  if (!/\d/.test(number)) return html`<span class="word">${number}</span>`;
  return html`${number} <span class="unit">${unit}</span>`;
}
