import type { BilgeName, TankName } from "../names.ts";
import type { Scene } from "../scene.ts";

/** What can go wrong with bilges, tanks, the mooring and the detectors. */
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

const KINDS: Readonly<Record<HullFault["kind"], true>> = {
  "bilge-leaks": true,
  "bilge-siphons": true,
  "float-loose": true,
  "pump-dead": true,
  "pump-choked": true,
  "tank-leaks": true,
  "mooring-drags": true,
  "detector-faulty": true,
};

export function isHullFault(fault: { readonly kind: string }): fault is HullFault {
  return Object.hasOwn(KINDS, fault.kind);
}

export function setHullFault(fault: HullFault, on: boolean, { boat }: Scene): void {
  switch (fault.kind) {
    case "bilge-leaks": {
      const bilge = boat.bilges[fault.bilge];
      bilge.inflow = on ? bilge.inflow + fault.inflow : bilge.usualInflow;
      bilge.growing = on ? fault.growing ?? 0 : 0;
      return;
    }
    case "bilge-siphons":
      boat.bilges[fault.bilge].siphons = on;
      return;
    case "float-loose":
      boat.bilges[fault.bilge].loose = on;
      return;
    case "pump-dead":
      boat.bilges[fault.bilge].pump = on ? "dead" : "works";
      return;
    case "pump-choked":
      boat.bilges[fault.bilge].pump = on ? "choked" : "works";
      return;
    case "tank-leaks":
      boat.tanks[fault.tank].leaking = on ? fault.outflow : 0;
      return;
    case "mooring-drags":
      boat.motion.dragging = on ? fault.speed : 0;
      return;
    case "detector-faulty":
      boat.detectors.faulty = on;
      return;
  }
}
