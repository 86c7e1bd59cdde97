import type { RoomLeft } from "../../alarms/change.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { RoomLine } from "./boat-view.ts";
import { limitLine } from "./limit-line.ts";
import { ageLine } from "./age-line.ts";
import { figureLine } from "./figure-line.ts";

/** Rows change places only over more than this share of the usual range, so that they lie still. */
const CALM = 0.03;

/**
 * One line a watched signal, and one a rule that judges a figure made of signals; least room first,
 * those without a distance last. `previous` is the order shown before.
 */
export function roomLines(
  rooms: readonly RoomLeft[],
  table: SignalTable,
  owners: OwnersUnits,
  previous: readonly RoomLine[] = [],
): readonly RoomLine[] {
  const lines = new Map<string, RoomLine>();
  const { readings = [], others = [] } = Object.groupBy(
    rooms,
    ({ kind }) => kind === "reading" ? "readings" : "others",
  );
  for (const limits of Map.groupBy(readings, (room) => room.signal).values()) {
    const line = limitLine(limits, table, owners);
    lines.set(line.id, line);
  }
  for (const room of others) {
    const line = room.kind === "age" ? ageLine(room, table, owners) : figureLine(room, owners);
    lines.set(line.id, line);
  }
  const before = previous.map((line) => line.id).filter((id) => lines.has(id));
  const sorted: RoomLine[] = [];
  for (const id of new Set([...before, ...lines.keys()])) {
    const line = lines.get(id);
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
