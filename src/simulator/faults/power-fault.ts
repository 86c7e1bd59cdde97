import { deviceNamed, type Scene } from "../scene.ts";

/** What can go wrong with batteries and what charges them. */
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

const KINDS: Readonly<Record<PowerFault["kind"], true>> = {
  "charger-fault": true,
  "charger-asleep": true,
  "charger-overcharges": true,
  "shore-power-lost": true,
  "house-opens": true,
  "start-battery-tired": true,
  "shunt-reversed": true,
};

export function isPowerFault(fault: { readonly kind: string }): fault is PowerFault {
  return Object.hasOwn(KINDS, fault.kind);
}

export function setPowerFault(fault: PowerFault, on: boolean, scene: Scene): void {
  const { boat } = scene;
  switch (fault.kind) {
    case "charger-fault":
      boat.charger.broken = on;
      return;
    case "charger-asleep":
      boat.charger.asleep = on;
      return;
    case "charger-overcharges":
      boat.charger.overcharging = on;
      return;
    case "shore-power-lost":
      boat.charger.shorePower = !on;
      deviceNamed("charger", scene).powered = !on;
      return;
    case "house-opens":
      boat.house.open = on;
      if (on) boat.alternators.port.loseBattery();
      return;
    case "start-battery-tired":
      boat.startBattery.tired = on ? fault.times : 1;
      for (const engine of [boat.engines.port, boat.engines.starboard]) {
        engine.reluctance = boat.startBattery.tired;
      }
      return;
    case "shunt-reversed":
      boat.shuntReversed = on;
      return;
  }
}
