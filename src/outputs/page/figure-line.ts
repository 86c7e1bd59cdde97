import type { RoomLeft } from "../../alarms/change.ts";
import { reading, readingOfDifference } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { RoomLine } from "./boat-view.ts";
import { distanceWords, reasonWords } from "./limit-line.ts";
import { leastWords } from "./least-words.ts";
import { spaced } from "./names.ts";

/**
 * The line of a rule that judges a figure made of its signals: how often, how long, how far, how fast.
 * What the signals read has other limits, and other units, so that it stands under the rule's title.
 */
export function figureLine(room: RoomLeft, owners: OwnersUnits): RoomLine {
  const { tag, subject, title, priority, kind, value, setpoint, unit, side } = room;
  const isKnown = room.room !== null && value !== null && setpoint !== null;
  const readingOf = kind === "difference" ? readingOfDifference : reading;
  return {
    id: `${tag}.${subject}`,
    name: subject === "boat" ? title : `${title}, ${spaced(subject)}`,
    value: readingOf(value, unit, owners),
    distance: isKnown ? distanceWords(room, owners) : reasonWords(room),
    least: leastWords([room], setpoint, unit, owners),
    room: room.room,
    passed: room.room !== null && room.room < 0 ? priority : null,
    picture: isKnown && setpoint > 0
      ? { value, limits: [{ at: setpoint, side }], span: setpoint }
      : null,
  };
}
