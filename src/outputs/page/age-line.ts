import type { RoomLeft } from "../../alarms/change.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { RoomLine } from "./boat-view.ts";
import { leastWords } from "./least-words.ts";
import { reasonWords } from "./limit-line.ts";
import { signalTitle } from "./names.ts";

/** The line of a rule about how long its signal has not been heard, in whole seconds so that it lies still between two messages. */
export function ageLine(room: RoomLeft, table: SignalTable, owners: OwnersUnits): RoomLine {
  const { signal, setpoint, priority } = room;
  const head = {
    id: `${signal.replaceAll("/", ".")}.age`,
    name: `${signalTitle(signal)}, heard`,
    least: leastWords([room], setpoint, "s", owners),
  };
  if (room.room === null || room.value === null || setpoint === null || table.find(signal) < 0) {
    return {
      ...head,
      value: { number: "", unit: "" },
      distance: reasonWords(room),
      room: null,
      passed: null,
      picture: null,
    };
  }
  const age = Math.floor(room.value);
  const limit = `${Number(setpoint.toFixed(1))} s`;
  const passed = room.room < 0;
  return {
    ...head,
    value: { number: String(age), unit: "s" },
    distance: passed
      ? `not heard for ${age} s, its limit ${limit}`
      : `${Math.ceil(setpoint - age)} s before its limit ${limit}`,
    room: passed ? room.room : (setpoint - age) / setpoint,
    passed: passed ? priority : null,
    picture: { value: age, limits: [{ at: setpoint, side: "high" }], span: setpoint },
  };
}
