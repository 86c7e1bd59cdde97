import { type EngineFault, isEngineFault, setEngineFault } from "./faults/engine-fault.ts";
import { type HullFault, isHullFault, setHullFault } from "./faults/hull-fault.ts";
import { type NetworkFault, setNetworkFault } from "./faults/network-fault.ts";
import { isPowerFault, type PowerFault, setPowerFault } from "./faults/power-fault.ts";
import { isSenderFault, type SenderFault, setSenderFault } from "./faults/sender-fault.ts";
import type { Scene } from "./scene.ts";

/** What can go wrong on request. What is not given has a size that is typical. */
export type Fault = EngineFault | PowerFault | HullFault | SenderFault | NetworkFault;

/**
 * Lets a fault begin, or ends it.
 * @throws {RangeError} for a device that the boat does not have
 */
export function setFault(fault: Fault, on: boolean, scene: Scene): void {
  if (isEngineFault(fault)) setEngineFault(fault, on, scene);
  else if (isPowerFault(fault)) setPowerFault(fault, on, scene);
  else if (isHullFault(fault)) setHullFault(fault, on, scene);
  else if (isSenderFault(fault)) setSenderFault(fault, on, scene);
  else setNetworkFault(fault, on, scene);
}
