import type { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import type { Fault, Happening, Side } from "./happening.ts";
import { RADIANS } from "./motion.ts";

/**
 * Lets something happen to the boat and the boxes on its bus.
 * @throws {RangeError} for a device that the boat does not have
 */
export function perform(happening: Happening, boat: Cruiser, devices: readonly Device[]): void {
  switch (happening.do) {
    case "key-on":
      return turnKeyOn(happening.engine, boat, devices);
    case "key-off":
      return turnKeyOff(happening, boat, devices);
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
    case "fault":
      return setFault(happening.fault, true, boat, devices);
    case "repair":
      return setFault(happening.fault, false, boat, devices);
  }
}

function turnKeyOn(side: Side, boat: Cruiser, devices: readonly Device[]): void {
  boat.engines[side].keyOn = true;
  const gateway = deviceNamed(`${side}-gateway`, devices);
  gateway.powered = true;
  gateway.sensorsGone = false;
}

function turnKeyOff(
  { engine: side, gateway: what }: Happening & { do: "key-off" },
  boat: Cruiser,
  devices: readonly Device[],
): void {
  boat.engines[side].keyOn = false;
  boat.engines[side].stop();
  const gateway = deviceNamed(`${side}-gateway`, devices);
  gateway.powered = what !== "dies";
  gateway.sensorsGone = what === "not-available";
}

function setFault(fault: Fault, on: boolean, boat: Cruiser, devices: readonly Device[]): void {
  switch (fault.kind) {
    case "oil-strainer-clogs":
      boat.engines[fault.engine].oil.clogging = on;
      return;
    case "coolant-blocked":
      boat.engines[fault.engine].cooling.open = on ? 0.1 : 1;
      return;
    case "charger-fault":
      boat.charger.broken = on;
      return;
    case "device-gone":
      deviceNamed(fault.device, devices).powered = !on;
      return;
    case "sensors-gone":
      deviceNamed(fault.device, devices).sensorsGone = on;
      return;
  }
}

function deviceNamed(name: string, devices: readonly Device[]): Device {
  const found = devices.find((device) => device.facts.name === name);
  if (found === undefined) throw new RangeError(`no device "${name}" aboard`);
  return found;
}
