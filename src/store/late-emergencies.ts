import { type Micros, SECOND } from "../ground/time.ts";
import type { AlarmEvent, Commit } from "./store.ts";

const LATE: Micros = 2 * SECOND;

/**
 * The emergency alarms of a turn that the disk has not taken within two seconds: they must go out
 * all the same. Empty, and at once, where there are none or the turn is saved in time.
 */
export async function lateEmergencies(
  { events, saved }: Commit,
  wait: (length: Micros) => Promise<void>,
): Promise<readonly AlarmEvent[]> {
  const emergencies = events.filter(({ change }) => change.priority === "emergency-alarm");
  if (emergencies.length === 0) return [];
  const inTime = await Promise.race([
    saved.then(() => true, () => false),
    wait(LATE).then(() => false),
  ]);
  return inTime ? [] : emergencies;
}
