import type { Reading } from "../../units/say.ts";
import type { SignalLine } from "./boat-view.ts";
import { type Markup, markup, NOTHING } from "./markup.ts";
import type { Part } from "./part.ts";
import { heardTime, wholeSecond } from "./time-element.ts";

/** One signal: name and remark, value, and how long ago it was heard. */
export function signalPart(line: SignalLine): Part {
  const name = markup`<tr id="${line.id}"><th scope="row">${line.name}`;
  const value = markup`<td class="value">${valueCell(line.value)}</td>`;
  const remark = line.remark === "" ? NOTHING : markup` <small>${line.remark}</small>`;
  if (line.heard === null) {
    const before = markup`${name}${remark}</th>${value}<td class="age"></td></tr>`;
    return { id: line.id, before: before.text, children: [], after: "" };
  }
  const heard = wholeSecond(line.heard);
  if (line.lost) {
    const time = heardTime("for");
    return {
      id: line.id,
      before: markup`${name} <small>${line.remark} `.text + time.before,
      children: [],
      heard,
      after: time.after + markup`</small></th>${value}<td class="age"></td></tr>`.text,
    };
  }
  const time = heardTime("ago");
  return {
    id: line.id,
    before: markup`${name}${remark}</th>${value}<td class="age">`.text + time.before,
    children: [],
    heard,
    after: `${time.after}</td></tr>`,
  };
}

/** The number and its unit apart, so that numbers stand under one another. */
export function valueCell({ number, unit }: Reading): Markup {
  if (number === "") return markup`<span class="none">no reading</span>`;
  if (!/^[-\d.,]+$/.test(number)) return markup`<span class="word">${number}</span>`;
  const shown = number.replace(/^-/, "−");
  const close = unit.startsWith("°") && !/^°[CF]$/.test(unit);
  return markup`${shown}${close ? "" : " "}<span class="unit">${unit}</span>`;
}
