import { type Micros, SECOND } from "./time.ts";

/**
 * The two clocks of the program. Only `src/commands/` owns a real one.
 * `steady` drives every timer and never steps; `wall` is only shown and written.
 */
export interface Clock {
  steady(): Micros;
  wall(): Micros;
}

/** 2026-01-01T00:00:00Z: this program did not exist before. */
export const BUILT: Micros = 1_767_225_600 * SECOND;

/** False for a computer without a clock of its own that has not yet been told the time. */
export function isCredible(wall: Micros): boolean {
  return wall >= BUILT;
}
