import type { Micros } from "../ground/time.ts";

export type Side = "port" | "starboard";

/** What can go wrong on request; more of the boat's moods join here. */
export type Fault =
  /** Oil pressure stops following speed: low under load, nearly right at idle. */
  | { readonly kind: "oil-strainer-clogs"; readonly engine: Side }
  /** Most of the raw water is kept out. */
  | { readonly kind: "coolant-blocked"; readonly engine: Side }
  | { readonly kind: "charger-fault" }
  /** A device stops talking: its plug is out. */
  | { readonly kind: "device-gone"; readonly device: string }
  /** A device goes on talking but has nothing to say: its sensors' wires are off. */
  | { readonly kind: "sensors-gone"; readonly device: string };

/** What somebody does aboard, or what befalls the boat. */
export type Happening =
  | { readonly do: "key-on"; readonly engine: Side }
  /**
   * Stops the engine. Its gateway is fed by the key and dies with it; or it is fed by the bus and
   * goes on, with "not available" where the key feeds the senders, or else with speed and pressure 0.
   */
  | {
    readonly do: "key-off";
    readonly engine: Side;
    readonly gateway: "dies" | "not-available" | "reads-zero";
  }
  | { readonly do: "start"; readonly engine: Side }
  | { readonly do: "stop"; readonly engine: Side }
  | { readonly do: "gear"; readonly engine: Side; readonly engaged: boolean }
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
  | { readonly do: "leak"; readonly bilge: "aft" | "forward"; readonly inflow: number }
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
  readonly start: {
    /** °C of both engines: cold, or still warm from an earlier trip. */
    readonly engines: number;
    /** Whether the engines' gateways are on the bus before a key is turned. */
    readonly gateways: "talking" | "dark";
    readonly shorePower: boolean;
    /** Shares of 1. */
    readonly house: number;
    readonly battery: number;
    /** L already in the aft bilge. */
    readonly aftBilge: number;
  };
  /** In order of time. */
  readonly happenings: readonly Timed[];
}
