import type { Aboard } from "./aboard.ts";
import type { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import { engineGateway } from "./devices/engine-gateway.ts";
import { mastReceiver } from "./devices/mast-receiver.ts";
import { shoreCharger } from "./devices/shore-charger.ts";
import { shunt } from "./devices/shunt.ts";
import { sounder } from "./devices/sounder.ts";
import { switchMonitor } from "./devices/switch-monitor.ts";
import { tankSenders } from "./devices/tank-senders.ts";
import { windSensor } from "./devices/wind-sensor.ts";
import { extraBox } from "./extra-box.ts";
import type { Scenario } from "./happening.ts";
import { Random } from "./random.ts";

/**
 * The boxes on a boat's bus: ours, and those that some others have. Models and serial numbers are
 * invented.
 */
export function outfit(
  boat: Cruiser,
  seed: number,
  { start, aboard }: Pick<Scenario, "start" | "aboard">,
): readonly Device[] {
  const random = (label: string) => new Random(seed, label);
  const engines = engineGateways(boat, random);
  for (const gateway of engines) gateway.powered = start.gateways === "talking";
  return [
    ...engines,
    ...otherBoxes(boat, random, aboard),
    ...(aboard?.also ?? []).map((box) => extraBox(box, boat, random)),
  ];
}

type Label = (label: string) => Random;

function engineGateways(boat: Cruiser, random: Label): Device[] {
  return [
    engineGateway(boat, random("port gateway"), "port", {
      name: "port-gateway",
      address: 16,
      identity: 60_101,
      deviceClass: 50,
      deviceFunction: 160,
      deviceInstance: 0,
      model: "Engine gateway",
      serial: "E-0101",
    }),
    engineGateway(boat, random("starboard gateway"), "starboard", {
      name: "starboard-gateway",
      address: 17,
      identity: 60_102,
      deviceClass: 50,
      deviceFunction: 160,
      deviceInstance: 1,
      model: "Engine gateway",
      serial: "E-0102",
    }),
  ];
}

function otherBoxes(boat: Cruiser, random: Label, aboard: Aboard = {}): Device[] {
  return [
    shunt(boat, random("shunt"), {
      name: "shunt",
      address: 32,
      identity: 60_203,
      deviceClass: 35,
      deviceFunction: 170,
      model: "Battery shunt 500 A",
      serial: "B-0203",
      // It is made to measure a battery at its worst.
      brownOut: 6.5,
    }),
    shoreCharger(boat, {
      name: "charger",
      address: 33,
      identity: 60_204,
      deviceClass: 35,
      deviceFunction: 163,
      model: "Shore charger 40 A",
      serial: "C-0204",
    }),
    tankSenders(boat, aboard.engines === "petrol-v8s" ? "fuel-gasoline" : "fuel", {
      name: "tank-senders",
      address: 48,
      identity: 60_305,
      deviceClass: 75,
      deviceFunction: 150,
      model: "Tank interface, four inputs",
      serial: "T-0305",
    }),
    switchMonitor(boat, {
      name: "switch-monitor",
      address: 49,
      identity: 60_306,
      deviceClass: 30,
      deviceFunction: 130,
      model: "Contact monitor",
      serial: "S-0306",
    }),
    mastReceiver(boat, random("receiver"), {
      name: "mast-receiver",
      address: 64,
      identity: 60_407,
      deviceClass: 60,
      deviceFunction: 145,
      model: "Mast receiver",
      serial: "A-0042",
    }),
    sounder(boat, random("sounder"), {
      name: "sounder",
      address: 65,
      identity: 60_408,
      deviceClass: 60,
      deviceFunction: 135,
      model: "Sounder",
      serial: "D-0408",
    }),
    windSensor(boat, {
      name: "wind-sensor",
      address: 66,
      identity: 60_409,
      deviceClass: 85,
      deviceFunction: 130,
      model: "Wind sensor",
      serial: "W-0409",
    }),
  ];
}
