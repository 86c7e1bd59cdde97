import type { RoomLeft } from "../../alarms/change.ts";
import type { UnitCode } from "../../units/codes.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { differenceWords, isTooSmallToSay } from "./difference-words.ts";

/**
 * `least in the last hour 4 psi, in the last day past it by 2 psi`: of all limits of one line. Empty
 * where there was never less than now.
 *
 * @param whole what a room of 1 is, in `unit`
 */
export function leastWords(
  rooms: readonly RoomLeft[],
  whole: number | null,
  unit: UnitCode,
  owners: OwnersUnits,
): string {
  if (whole === null) return "";
  const words = (shares: readonly (number | null | undefined)[]) => {
    const least = Math.min(...shares.map((share) => share ?? Infinity));
    return least === Infinity ? "" : roomWords(least * whole, unit, owners);
  };
  const now = words(rooms.map((one) => one.room));
  const hour = words(rooms.map((one) => one.hour));
  const day = words(rooms.map((one) => one.day));
  if (day === "" || day === now) return "";
  if (hour === day) return `least in the last hour ${hour}`;
  if (hour === "" || hour === now) return `least in the last day ${day}`;
  return `least in the last hour ${hour}, in the last day ${day}`;
}

function roomWords(room: number, unit: UnitCode, owners: OwnersUnits): string {
  const distance = differenceWords(Math.abs(room), unit, owners);
  if (isTooSmallToSay(distance)) return room < 0 ? "past it" : "none";
  return room < 0 ? `past it by ${distance}` : distance;
}
