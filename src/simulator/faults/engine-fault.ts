import type { Side } from "../names.ts";
import { CLOGGED } from "../oil.ts";
import type { Scene } from "../scene.ts";

/** Share of the raw water that a plastic bag lets through. */
const BAG = 0.1;

/** What can go wrong with an engine and what hangs on it. */
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

const KINDS: Readonly<Record<EngineFault["kind"], true>> = {
  "oil-strainer-clogs": true,
  "oil-lost": true,
  "bearings-worn": true,
  "coolant-blocked": true,
  "alternator-dead": true,
  "alternator-unregulated": true,
  "gearbox-slips": true,
  "engine-room-fan-stops": true,
};

export function isEngineFault(fault: { readonly kind: string }): fault is EngineFault {
  return Object.hasOwn(KINDS, fault.kind);
}

export function setEngineFault(fault: EngineFault, on: boolean, { boat }: Scene): void {
  if (fault.kind === "engine-room-fan-stops") {
    boat.engineRoom.fanWorks = !on;
    return;
  }
  const { oil, cooling } = boat.engines[fault.engine];
  switch (fault.kind) {
    case "oil-strainer-clogs":
      oil.clogging = on;
      oil.clogged = fault.leaves ?? CLOGGED;
      return;
    case "oil-lost":
      oil.lost = on;
      return;
    case "bearings-worn":
      oil.kept = on ? fault.keeps : 1;
      return;
    case "coolant-blocked":
      cooling.open = on ? fault.open ?? BAG : 1;
      return;
    case "alternator-dead":
      boat.alternators[fault.engine].dead = on;
      return;
    case "alternator-unregulated":
      boat.alternators[fault.engine].unregulated = on;
      return;
    case "gearbox-slips":
      boat.gearboxes[fault.engine].slipping = on;
      return;
  }
}
