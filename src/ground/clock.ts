import type { Micros } from "./time.ts";

/**
 * The two clocks of the program. Only `src/commands/` owns a real one.
 * `steady` drives every timer and never steps; `wall` is only shown and written.
 */
export interface Clock {
  steady(): Micros;
  wall(): Micros;
}
