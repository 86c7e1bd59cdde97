import { type Micros, SECOND } from "../ground/time.ts";
import type { AlarmEvent, Commit } from "./store.ts";

/** How long an emergency may wait for the disk. */
const EMERGENCIES_WAIT: Micros = 2 * SECOND;
/** How long anything may: a card that only pauses must not have it told before it is kept. */
const ALL_WAIT: Micros = 10 * SECOND;

/**
 * Tells what a turn has brought and the disk has not taken in time: it must go out all the same.
 * Emergencies first, then the rest; nothing where the turn is saved in time.
 * @param wait ends early when it is cut
 */
export async function tellLate(
  { events, saved }: Commit,
  wait: (length: Micros, cut: AbortSignal) => Promise<void>,
  tell: (late: readonly AlarmEvent[]) => void,
): Promise<void> {
  if (events.length === 0) return;
  const done = new AbortController();
  const end = (isSaved: boolean) => {
    done.abort();
    return isSaved;
  };
  const isSaved = saved.then(() => end(true), () => end(false));
  const isSavedIn = (length: Micros) =>
    Promise.race([isSaved, wait(length, done.signal).then(() => false)]);
  const isEmergency = ({ change }: AlarmEvent) => change.priority === "emergency-alarm";
  const emergencies = events.filter(isEmergency);
  const others = events.filter((event) => !isEmergency(event));
  if (await isSavedIn(EMERGENCIES_WAIT)) return;
  if (emergencies.length > 0) tell(emergencies);
  if (others.length === 0 || await isSavedIn(ALL_WAIT - EMERGENCIES_WAIT)) return;
  tell(others);
}
