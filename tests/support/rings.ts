import type { AlarmChange } from "../../src/alarms/change.ts";
import { SECOND } from "../../src/ground/time.ts";
import type { SignalStory } from "./signal-story.ts";

/** `oil-low port unacknowledged`, one for each change. */
export function tags(changes: readonly AlarmChange[]): string[] {
  return changes.map(({ tag, subject, to }) => `${tag} ${subject} ${to}`);
}

/** The changes of a story that ring: cautions do not. */
export function rings({ changes }: SignalStory): AlarmChange[] {
  return changes.filter(({ to, priority }) => to === "unacknowledged" && priority !== "caution");
}

/** Seconds of a change since the first frame. */
export function secondsOf({ began }: SignalStory, { time }: AlarmChange): number {
  return (time - began) / SECOND;
}
