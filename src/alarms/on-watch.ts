import { keyOf } from "./alarm-key.ts";

interface Named {
  readonly tag: string;
  readonly subject: string;
}

/** How many alarms are judged, or are left alone on purpose. */
export function onWatch(statuses: readonly Named[], unjudged: readonly Named[]): number {
  const idle = new Set(unjudged.map(keyOf));
  return statuses.filter((status) => !idle.has(keyOf(status))).length;
}
