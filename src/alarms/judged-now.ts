import type { RoomLeft } from "./change.ts";

/** Whether an alarm is judged at this moment. */
export interface JudgedNow {
  readonly tag: string;
  readonly subject: string;
  /** Its own condition is known to be true. */
  readonly watching: boolean;
  /** Why it is not judged; empty where it is. */
  readonly reason: string;
  /** Null while it is not judged, and for the kinds that have no distance. */
  readonly room: Omit<RoomLeft, "hour" | "day"> | null;
}
