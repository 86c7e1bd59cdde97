import type { Micros } from "../ground/time.ts";
import type { BilgeName, Side, TankName } from "./names.ts";
import type { Reading, ReadingFault } from "./reading-fault.ts";
import type { Belief } from "./satellite-fix.ts";

/** What can go wrong on request. What is not given has a size that is typical. */
export type Fault = EngineFault | PowerFault | HullFault | SenderFault | NetworkFault;

export type EngineFault =
  /** Oil pressure stops following speed: low under load, nearly right at idle. It ends at `leaves` Pa. */
  | { readonly kind: "oil-strainer-clogs"; readonly engine: Side; readonly leaves?: number }
  /** A hose bursts: no oil pressure at all within two seconds. */
  | { readonly kind: "oil-lost"; readonly engine: Side }
  /** Oil pressure keeps only this share, at any speed. */
  | { readonly kind: "bearings-worn"; readonly engine: Side; readonly keeps: number }
  /** Most of the raw water is kept out; `open` is the share that still comes, a tenth when not given. */
  | { readonly kind: "coolant-blocked"; readonly engine: Side; readonly open?: number }
  | { readonly kind: "alternator-dead"; readonly engine: Side }
  /** Its regulator has failed: about 16 V. */
  | { readonly kind: "alternator-unregulated"; readonly engine: Side }
  | { readonly kind: "gearbox-slips"; readonly engine: Side }
  | { readonly kind: "engine-room-fan-stops" };

export type PowerFault =
  | { readonly kind: "charger-fault" }
  /** Shore power is there, but the charger's own switch is off. */
  | { readonly kind: "charger-asleep" }
  /** Its regulator has failed: 15.6 V, whatever the battery says. */
  | { readonly kind: "charger-overcharges" }
  /** Shore power fails and the charger, which it feeds, leaves the bus. */
  | { readonly kind: "shore-power-lost" }
  /** The protection of the house bank cuts it off. */
  | { readonly kind: "house-opens" }
  /** The start battery has this many times the resistance of a new one, and turns the starter slowly. */
  | { readonly kind: "start-battery-tired"; readonly times: number }
  /** The shunt was fitted the other way round: current and counted charge run backwards. */
  | { readonly kind: "shunt-reversed" };

export type HullFault =
  /** L/h into a bilge, which grow by `growing` L/h in an hour. */
  | {
    readonly kind: "bilge-leaks";
    readonly bilge: BilgeName;
    readonly inflow: number;
    readonly growing?: number;
  }
  /** After a run of the pump the sea comes back through its hose. */
  | { readonly kind: "bilge-siphons"; readonly bilge: BilgeName }
  /** The high-water float has come loose and follows every wave. */
  | { readonly kind: "float-loose"; readonly bilge: BilgeName }
  | { readonly kind: "pump-dead"; readonly bilge: BilgeName }
  /** Weed in the strainer: the pump runs and lifts little. */
  | { readonly kind: "pump-choked"; readonly bilge: BilgeName }
  /** L/h that leave a tank besides. */
  | { readonly kind: "tank-leaks"; readonly tank: TankName; readonly outflow: number }
  /** The mooring drags at this many m/s. */
  | { readonly kind: "mooring-drags"; readonly speed: number }
  | { readonly kind: "detector-faulty" };

export type SenderFault =
  | ({ readonly kind: "reading" } & Reading & ReadingFault)
  /** The satellite fix strays by about so many metres. */
  | { readonly kind: "fix-strays"; readonly metres: number }
  | { readonly kind: "receiver-believes"; readonly what: Exclude<Belief, "truth"> }
  /** A device goes on talking but has nothing to say: its sensors' wires are off. */
  | { readonly kind: "sensors-gone"; readonly device: string }
  /** A slow device measures only so often, and repeats itself meanwhile. */
  | { readonly kind: "repeats-itself"; readonly device: string; readonly every: Micros };

export type NetworkFault =
  /** A device stops talking: its plug is out. */
  | { readonly kind: "device-gone"; readonly device: string }
  /** Two devices end up with the same instance: it was never set. */
  | { readonly kind: "instance-not-set"; readonly device: string; readonly instance: number }
  /** A device has to claim another address. */
  | { readonly kind: "address-changes"; readonly device: string; readonly address: number }
  /** Two devices change places. */
  | { readonly kind: "addresses-swapped"; readonly devices: readonly [string, string] }
  /**
   * A terminator is gone: error frames, and frames that never arrive, so that messages have holes.
   * `hit` is the share of the frames, 0.4 when not given.
   */
  | {
    readonly kind: "backbone-fails";
    readonly when: "always" | "radio-transmits";
    readonly hit?: number;
  }
  /** Messages of several frames take their time, so that others come between. */
  | { readonly kind: "frames-interleave" }
  /** A gateway sends a short fast packet as if it were a single frame. */
  | { readonly kind: "misframed"; readonly device: string; readonly pgn: number }
  /** The clock of the computer that stamps the frames is off by so much; for recordings. */
  | { readonly kind: "clock-off"; readonly by: Micros };
