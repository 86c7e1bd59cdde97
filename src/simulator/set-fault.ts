import type {
  EngineFault,
  Fault,
  HullFault,
  NetworkFault,
  PowerFault,
  SenderFault,
} from "./fault.ts";
import { CLOGGED } from "./oil.ts";
import { FaultyReading, type Reading } from "./reading-fault.ts";
import { deviceNamed, misframedName, type Scene } from "./scene.ts";

/** Share of the raw water that a plastic bag lets through. */
const BAG = 0.1;
const HIT = 0.4;

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

function setEngineFault(fault: EngineFault, on: boolean, { boat }: Scene): void {
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

function setPowerFault(fault: PowerFault, on: boolean, scene: Scene): void {
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

function setHullFault(fault: HullFault, on: boolean, { boat }: Scene): void {
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

function setSenderFault(fault: SenderFault, on: boolean, scene: Scene): void {
  switch (fault.kind) {
    case "reading": {
      const device = deviceNamed(fault.device, scene);
      const others = device.faultyReadings.filter(({ reading }) => !isSame(reading, fault));
      const label = `${fault.device} ${fault.field}`;
      device.faultyReadings = on
        ? [...others, new FaultyReading(fault, fault, scene.random(label))]
        : others;
      return;
    }
    case "fix-strays":
      scene.boat.fix.straying = on ? fault.metres : 0;
      return;
    case "receiver-believes":
      scene.boat.fix.belief = on ? fault.what : "truth";
      return;
    case "sensors-gone":
      deviceNamed(fault.device, scene).sensorsGone = on;
      return;
    case "repeats-itself":
      deviceNamed(fault.device, scene).repeats = on ? fault.every : 0;
      return;
  }
}

function isSame(a: Reading, b: Reading): boolean {
  return a.device === b.device && a.field === b.field &&
    JSON.stringify(a.of) === JSON.stringify(b.of);
}

function setNetworkFault(fault: NetworkFault, on: boolean, scene: Scene): void {
  const { backbone } = scene;
  switch (fault.kind) {
    case "device-gone":
      deviceNamed(fault.device, scene).powered = !on;
      return;
    case "instance-not-set":
      deviceNamed(fault.device, scene).instance = on ? fault.instance : null;
      return;
    case "address-changes": {
      const device = deviceNamed(fault.device, scene);
      device.address = on ? fault.address : device.facts.address;
      return;
    }
    case "addresses-swapped": {
      const [one, other] = fault.devices.map((name) => deviceNamed(name, scene));
      one.address = on ? other.facts.address : one.facts.address;
      other.address = on ? one.facts.address : other.facts.address;
      return;
    }
    case "backbone-fails":
      backbone.hit = on ? fault.hit ?? HIT : 0;
      backbone.onlyWhileTransmitting = fault.when === "radio-transmits";
      return;
    case "frames-interleave":
      backbone.interleaves = on;
      return;
    case "misframed": {
      const name = misframedName(deviceNamed(fault.device, scene), fault.pgn);
      if (on) scene.misframed.add(name);
      else scene.misframed.delete(name);
      return;
    }
    case "clock-off":
      backbone.clockOff = on ? fault.by : 0;
      return;
  }
}
