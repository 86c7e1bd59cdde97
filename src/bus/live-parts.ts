import type { Clock } from "../ground/clock.ts";
import type { Micros } from "../ground/time.ts";
import type { SourceEvent } from "./source-event.ts";

/** What a live adapter needs of the world above it: this floor owns no clock. */
export interface LiveParts {
  /** How long to wait after the attempt with this number (from 1) since the last success. */
  readonly delay: (attempt: number) => Micros;
  /** Waits, or ends early when the signal aborts. */
  readonly sleep: (length: Micros, signal: AbortSignal) => Promise<void>;
  readonly clock: Clock;
  readonly told?: (event: SourceEvent) => void;
}
