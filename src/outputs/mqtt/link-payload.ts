import { isoTime, type Micros, MINUTE, SECOND } from "../../ground/time.ts";

/** A link not repeated for two intervals counts as lost: a killed broker sends no will. */
export const LINK_INTERVAL: Micros = 5 * MINUTE;

export function linkPayload(state: "connected" | "stopped", wall: Micros): string {
  return payload(state, isoTime(wall, 3));
}

/** The last will. It is written when the connection is made, so it cannot know its time. */
export function linkLostPayload(): string {
  return payload("lost", null);
}

function payload(state: string, time: string | null): string {
  return JSON.stringify({ state, time, interval: LINK_INTERVAL / SECOND });
}
