import { type AlarmRecord, alarmRecordSchema } from "../alarms/alarm-record.ts";
import type { Problem } from "../ground/problem.ts";
import { isHidden } from "./hidden-rules.ts";

/** What alarms remember from one run to the next: one JSON object a line, an alarm each. */
export function memoryLines(records: readonly AlarmRecord[]): string {
  return records.filter((record) => !isHidden(record))
    .map((record) => `${JSON.stringify(record)}\n`).join("");
}

/** Reads what `memoryLines` wrote; every line that cannot be read is a problem. */
export function readMemory(
  file: string,
  text: string,
): { records: AlarmRecord[]; problems: Problem[] } {
  const records: AlarmRecord[] = [];
  const problems: Problem[] = [];
  text.split("\n").forEach((line, i) => {
    if (line.trim() === "") return;
    const read = alarmRecordSchema.safeParse(parsed(line));
    if (read.success) records.push(read.data);
    else {
      problems.push({
        kind: "wrong-value",
        place: { file, line: i + 1, column: 1 },
        found: line.length > 40 ? `${line.slice(0, 39)}…` : line,
        expected: "what rehearse --memory wrote: an alarm and what it remembers",
      });
    }
  });
  return { records, problems };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
