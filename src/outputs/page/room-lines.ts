import type { RoomLeft } from "../../alarms/change.ts";
import { PRIORITIES } from "../../alarms/words.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { reading, say, sayDifference } from "../../units/say.ts";
import type { UnitCode } from "../../units/codes.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { RoomLine } from "./boat-view.ts";
import { capital, quantityWords, subjectWords } from "./names.ts";

/** Rows change places only over more than this share of the usual range, so that they lie still. */
const CALM = 0.03;

/**
 * One line a watched signal, least room first, those without a distance last. `previous` is the
 * order shown before.
 */
export function roomLines(
  rooms: readonly RoomLeft[],
  table: SignalTable,
  owners: OwnersUnits,
  previous: readonly RoomLine[] = [],
): readonly RoomLine[] {
  const bySignal = Map.groupBy(rooms, (room) => room.signal);
  const lines = new Map<string, RoomLine>();
  for (const [signal, limits] of bySignal) {
    lines.set(signal, lineOf(signal, limits, table, owners));
  }
  const before = previous.filter((line) => lines.has(line.signal)).map((line) => line.signal);
  const inOrder = new Set([...before, ...lines.keys()]);
  const sorted: RoomLine[] = [];
  for (const signal of inOrder) {
    const line = lines.get(signal);
    if (line !== undefined) insert(sorted, line);
  }
  return sorted;
}

function insert(sorted: RoomLine[], line: RoomLine): void {
  let at = sorted.length;
  while (at > 0 && belongsBefore(line, sorted[at - 1])) at--;
  sorted.splice(at, 0, line);
}

function belongsBefore(a: RoomLine, b: RoomLine): boolean {
  if (a.room === null || b.room === null) return a.room !== null && b.room === null;
  if (a.room < 0 !== b.room < 0) return a.room < 0;
  return a.room < b.room - CALM;
}

function lineOf(
  signal: string,
  rooms: readonly RoomLeft[],
  table: SignalTable,
  owners: OwnersUnits,
): RoomLine {
  const number = table.find(signal);
  const facts = number < 0 ? undefined : table.facts[number];
  const [group, ...rest] = signal.split("/");
  const name = facts === undefined
    ? `${subjectWords(group, rest.length > 1 ? rest[0] : "")} ${quantityWords(rest.at(-1) ?? "")}`
    : `${subjectWords(facts.group, facts.subject)} ${quantityWords(facts.quantity)}`;

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
  const span = facts?.span ?? null;
  return {
    signal,
    name: capital(name.trim()),
    value: reading(value, rooms[0].unit, owners),
    distance: nearest === undefined ? rooms[0].reason : distanceWords(nearest, owners),
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

/** `14 psi above its limit 18 psi`, `past its limit 18 psi by 7 psi`. */
export function distanceWords(
  { value, setpoint, side, unit, room }: RoomLeft,
  owners: OwnersUnits,
): string {
  if (value === null || setpoint === null || room === null) return "";
  const limit = say(setpoint, unit, owners);
  if (value === setpoint) return `at its limit ${limit}`;
  const distance = differenceWords(Math.abs(value - setpoint), unit, owners);
  const tooSmallToSay = /^[0.]+ /.test(distance);
  if (room < 0) return `past its limit ${limit}${tooSmallToSay ? "" : ` by ${distance}`}`;
  const where = side === "low" ? "above" : "below";
  return `${tooSmallToSay ? "just" : distance} ${where} its limit ${limit}`;
}

/** Percentages differ by points: 25 % above 33 % would be 41 %. */
function differenceWords(difference: number, unit: UnitCode, owners: OwnersUnits): string {
  const words = sayDifference(difference, unit, owners);
  return unit === "%" ? words.replace("%", "points") : words;
}
