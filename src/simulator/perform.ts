import { setFault } from "./fault.ts";
import type { Happening } from "./happening.ts";
import { RADIANS } from "./motion.ts";
import type { EngineName } from "./names.ts";
import { deviceNamed, type Scene } from "./scene.ts";

/**
 * Lets something happen to the boat and the boxes on its bus.
 * @throws {RangeError} for a device that the boat does not have
 */
export function perform(happening: Happening, scene: Scene): void {
  const { boat } = scene;
  switch (happening.do) {
    case "key-on":
      return turnKeyOn(happening.engine, scene);
    case "key-off":
      return turnKeyOff(happening, scene);
    case "start":
      return boat.engines[happening.engine].start();
    case "stop":
      return boat.engines[happening.engine].stop();
    case "gear":
      boat.engines[happening.engine].inGear = happening.engaged;
      return;
    case "throttle":
      boat.engines[happening.engine].demanded = happening.speed;
      return;
    case "steer":
      boat.motion.steering = happening.course * RADIANS;
      return;
    case "steer-for-mooring":
      boat.motion.steering = "for-mooring";
      return;
    case "make-fast":
      boat.motion.steering = "moored";
      return;
    case "shore-power":
      boat.charger.shorePower = happening.on;
      return;
    case "load":
      boat.extraLoad = happening.amperes;
      return;
    case "leak":
      boat.bilges[happening.bilge].inflow = happening.inflow;
      return;
    case "waves":
      boat.waves = happening.times;
      return;
    case "radio":
      scene.backbone.transmitting = happening.transmits;
      return;
    case "petrol-vapour":
      boat.detectors.petrolVapour = happening.there;
      return;
    case "carbon-monoxide":
      boat.detectors.carbonMonoxide = happening.there;
      return;
    case "fault":
      return setFault(happening.fault, true, scene);
    case "repair":
      return setFault(happening.fault, false, scene);
  }
}

function turnKeyOn(engine: EngineName, scene: Scene): void {
  scene.boat.engines[engine].keyOn = true;
  const gateway = deviceNamed(`${engine}-gateway`, scene);
  gateway.powered = true;
  gateway.sensorsGone = false;
}

function turnKeyOff(
  { engine, gateway: what }: Happening & { do: "key-off" },
  scene: Scene,
): void {
  scene.boat.engines[engine].keyOn = false;
  scene.boat.engines[engine].stop();
  const gateway = deviceNamed(`${engine}-gateway`, scene);
  gateway.powered = what !== "dies";
  gateway.sensorsGone = what === "not-available";
}
