import { drawRoomLeft } from "../../drawing/room-left.ts";
import type { RoomLine } from "./boat-view.ts";
import { Markup, markup, NOTHING } from "./markup.ts";
import { leaf, type Part } from "./part.ts";
import { valueCell } from "./signal-part.ts";

/** One row of the room left view. */
export function roomPart(line: RoomLine): Part {
  const id = `room-${line.id}`;
  const drawing = line.picture === null ? NOTHING : new Markup(drawRoomLeft(line.picture));
  const kind = line.passed !== null ? `passed ${line.passed}` : line.room === null ? "unknown" : "";
  const value = line.room === null
    ? NOTHING
    : markup`<span class="value">${valueCell(line.value)}</span>`;
  const least = line.least === "" ? NOTHING : markup` <span class="least">${line.least}</span>`;
  return leaf(
    id,
    markup`<li id="${id}" class="${kind}"><span class="name">${line.name}</span> ${value} ${drawing}
<span class="distance">${line.distance}${least}</span></li>`,
  );
}
