import { type EngineFault, setEngineFault } from "./faults/engine-fault.ts";
import { type HullFault, setHullFault } from "./faults/hull-fault.ts";
import { type NetworkFault, setNetworkFault } from "./faults/network-fault.ts";
import { type PowerFault, setPowerFault } from "./faults/power-fault.ts";
import { type SenderFault, setSenderFault } from "./faults/sender-fault.ts";
import type { Scene } from "./scene.ts";

/** What can go wrong on request. What is not given has a size that is typical. */
export type Fault = EngineFault | PowerFault | HullFault | SenderFault | NetworkFault;

/**
 * Lets a fault begin, or ends it.
 * @throws {RangeError} for a device that the boat does not have
 */
export function setFault(fault: Fault, on: boolean, scene: Scene): void {
  switch (fault.kind) {
    case "oil-strainer-clogs":
    case "oil-lost":
    case "bearings-worn":
    case "coolant-blocked":
    case "alternator-dead":
    case "alternator-unregulated":
    case "gearbox-slips":
    case "engine-room-fan-stops":
      return setEngineFault(fault, on, scene);
    case "charger-fault":
    case "charger-asleep":
    case "charger-overcharges":
    case "shore-power-lost":
    case "house-opens":
    case "start-battery-tired":
    case "shunt-reversed":
      return setPowerFault(fault, on, scene);
    case "bilge-leaks":
    case "bilge-siphons":
    case "float-loose":
    case "pump-dead":
    case "pump-choked":
    case "tank-leaks":
    case "mooring-drags":
    case "detector-faulty":
      return setHullFault(fault, on, scene);
    case "reading":
    case "fix-strays":
    case "receiver-believes":
    case "sensors-gone":
    case "repeats-itself":
      return setSenderFault(fault, on, scene);
    default:
      return setNetworkFault(fault, on, scene);
  }
}
