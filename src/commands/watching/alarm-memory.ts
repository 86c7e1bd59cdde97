import { type AlarmRecord, alarmRecordSchema } from "../../alarms/alarm-record.ts";
import type { Store } from "../../store/store.ts";

/**
 * The alarms as they were when the program last stopped. A record that cannot be read is passed
 * over and told, so that the others are not lost with it.
 */
export async function readAlarmMemory(
  store: Store,
  tell: (sentence: string) => void,
): Promise<AlarmRecord[]> {
  const records: AlarmRecord[] = [];
  for (const [key, text] of await store.documents("alarm-memory")) {
    const record = alarmRecordSchema.safeParse(parsed(text));
    if (record.success) records.push(record.data);
    else tell(`State folder: what was kept of the alarm ${key} cannot be read and is left out.`);
  }
  return records;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** An alarm's record as the store keeps it. */
export function memoryDocument(record: { readonly tag: string; readonly subject: string }) {
  return {
    kind: "alarm-memory",
    key: `${record.tag}/${record.subject}`,
    text: JSON.stringify(record),
  } as const;
}
