import type { Micros } from "../ground/time.ts";
import type { Aboard } from "./aboard.ts";
import type { Fault } from "./fault.ts";
import type { BilgeName, EngineName, Side } from "./names.ts";
import type { StartState } from "./start-state.ts";

/** What somebody does aboard, or what befalls the boat. */
export type Happening =
  | { readonly do: "key-on"; readonly engine: EngineName }
  /**
   * Stops the engine. Its gateway is fed by the key and dies with it; or it is fed by the bus and
   * goes on, with "not available" where the key feeds the senders, or else with speed and pressure 0.
   */
  | {
    readonly do: "key-off";
    readonly engine: EngineName;
    readonly gateway: "dies" | "not-available" | "reads-zero";
  }
  | { readonly do: "start"; readonly engine: EngineName }
  | { readonly do: "stop"; readonly engine: EngineName }
  /** A generator in gear carries its load. */
  | { readonly do: "gear"; readonly engine: EngineName; readonly engaged: boolean }
  /** `speed` in 1/min. */
  | { readonly do: "throttle"; readonly engine: Side; readonly speed: number }
  /** Degrees true. */
  | { readonly do: "steer"; readonly course: number }
  | { readonly do: "steer-for-mooring" }
  | { readonly do: "make-fast" }
  | { readonly do: "shore-power"; readonly on: boolean }
  /** A drawn from the house bank beside what always runs. */
  | { readonly do: "load"; readonly amperes: number }
  /** L/h into a bilge. */
  | { readonly do: "leak"; readonly bilge: BilgeName; readonly inflow: number }
  /** How many times rougher than usual the sea is. */
  | { readonly do: "waves"; readonly times: number }
  /** Somebody speaks on the radio. */
  | { readonly do: "radio"; readonly transmits: boolean }
  | { readonly do: "petrol-vapour"; readonly there: boolean }
  | { readonly do: "carbon-monoxide"; readonly there: boolean }
  | { readonly do: "fault"; readonly fault: Fault }
  | { readonly do: "repair"; readonly fault: Fault };

/** A happening at a time since the scenario's start. */
export type Timed = Happening & { readonly at: Micros };

/** A story for the boat: how it lies at the start, and what happens. */
export interface Scenario {
  readonly name: string;
  /** One sentence for a person who chooses. */
  readonly story: string;
  readonly lasting: Micros;
  /** Whether the happenings begin again when the story is over (live only). */
  readonly again: boolean;
  /** Our own boat as she usually is when not given. */
  readonly aboard?: Aboard;
  readonly start: StartState;
  /** In order of time. */
  readonly happenings: readonly Timed[];
}
