import { isoTime, type Micros, MINUTE, SECOND } from "../../ground/time.ts";

/** A link not repeated for two intervals counts as lost: a killed broker sends no will. */
export const LINK_INTERVAL: Micros = 5 * MINUTE;

/** How much the broker was told: who reads it sees what he misses. */
export interface ToldSoFar {
  readonly epoch: string;
  /** Number of the last event. */
  readonly number: number;
  /** Number of the last sheet of history. */
  readonly history: number;
}

export function linkPayload(state: "connected" | "stopped", wall: Micros, told: ToldSoFar): string {
  return JSON.stringify({ ...fields(state, isoTime(wall, 3)), ...told });
}

/** The last will. It is written when the connection is made, so it cannot know its time. */
export function linkLostPayload(): string {
  return JSON.stringify(fields("lost", null));
}

function fields(state: string, time: string | null) {
  return { state, time, interval: LINK_INTERVAL / SECOND };
}
