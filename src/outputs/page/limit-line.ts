import type { RoomLeft } from "../../alarms/change.ts";
import { NOT_WATCHING } from "../../alarms/not-judged.ts";
import { PRIORITIES } from "../../alarms/words.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { reading, say, sayDifference } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { RoomLine } from "./boat-view.ts";
import { differenceWords, isTooSmallToSay } from "./difference-words.ts";
import { leastWords } from "./least-words.ts";
import { signalTitle } from "./names.ts";

/** The line of a signal with all its limits (at least one), which share the signal. */
export function limitLine(
  rooms: readonly RoomLeft[],
  table: SignalTable,
  owners: OwnersUnits,
): RoomLine {
  const { signal, unit } = rooms[0];
  const judged = rooms.filter((room) => room.room !== null);
  const nearest = judged.reduce<RoomLeft | undefined>(
    (least, room) => least === undefined || roomOf(room) < roomOf(least) ? room : least,
    undefined,
  );
  const passed = judged.filter((room) => roomOf(room) < 0).map((room) => room.priority)
    .sort((a, b) => PRIORITIES.indexOf(a) - PRIORITIES.indexOf(b));
  const limits = judged.flatMap(({ setpoint, side }) =>
    setpoint === null ? [] : [{ at: setpoint, side }]
  );
  const value = nearest?.value ?? null;
  const number = table.find(signal);
  const span = number < 0 ? null : table.facts[number].span;
  return {
    id: signal.replaceAll("/", "."),
    name: signalTitle(signal),
    value: reading(value, unit, owners),
    distance: nearest === undefined ? reasonWords(rooms[0]) : distanceWords(nearest, owners),
    least: leastWords(rooms, span, unit, owners),
    room: nearest?.room ?? null,
    passed: passed[0] ?? null,
    picture: value === null || span === null || limits.length === 0
      ? null
      : { value, limits, span },
  };
}

function roomOf(room: RoomLeft): number {
  return room.room ?? Infinity;
}

/** Why there is no distance. */
export function reasonWords({ reason }: RoomLeft): string {
  return reason === NOT_WATCHING ? "not watched now" : reason;
}

/** `14 psi above its limit 18 psi`, `past its limit 18 psi by 7 psi`. */
export function distanceWords(
  { kind, value, setpoint, side, unit, room }: RoomLeft,
  owners: OwnersUnits,
): string {
  if (value === null || setpoint === null || room === null) return "";
  const limit = (kind === "difference" ? sayDifference : say)(setpoint, unit, owners);
  if (value === setpoint) return `at its limit ${limit}`;
  const distance = differenceWords(Math.abs(value - setpoint), unit, owners);
  const tooSmallToSay = isTooSmallToSay(distance);
  if (room < 0) return `past its limit ${limit}${tooSmallToSay ? "" : ` by ${distance}`}`;
  const where = side === "low" ? "above" : "below";
  return `${tooSmallToSay ? "just" : distance} ${where} its limit ${limit}`;
}
