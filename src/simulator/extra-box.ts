import type { ExtraBox } from "./aboard.ts";
import type { Cruiser } from "./cruiser.ts";
import type { Device } from "./device.ts";
import { detectors } from "./devices/detectors.ts";
import { engineGateway } from "./devices/engine-gateway.ts";
import { gearboxSenders } from "./devices/gearbox-senders.ts";
import { engineRoomSender, exhaustSenders } from "./devices/temperature-senders.ts";
import type { Random } from "./random.ts";

/** A box that only some boats have. */
export function extraBox(
  box: ExtraBox,
  boat: Cruiser,
  random: (label: string) => Random,
): Device {
  switch (box) {
    case "generator":
      return engineGateway(boat, random("generator gateway"), "generator", {
        name: "generator-gateway",
        address: 18,
        identity: 60_103,
        deviceClass: 50,
        deviceFunction: 160,
        deviceInstance: 2,
        model: "Generator gateway",
        serial: "E-0103",
      });
    case "gearbox-senders":
      return gearboxSenders(boat, random("gearbox senders"), {
        name: "gearbox-senders",
        address: 20,
        identity: 60_111,
        deviceClass: 50,
        deviceFunction: 160,
        deviceInstance: 3,
        model: "Gearbox interface",
        serial: "G-0111",
      });
    case "exhaust-senders":
      return exhaustSenders(boat, {
        name: "exhaust-senders",
        address: 50,
        identity: 60_307,
        deviceClass: 75,
        deviceFunction: 130,
        model: "Temperature interface",
        serial: "X-0307",
      });
    case "engine-room-sender":
      return engineRoomSender(boat, {
        name: "engine-room-sender",
        address: 51,
        identity: 60_308,
        deviceClass: 75,
        deviceFunction: 130,
        model: "Air temperature sender",
        serial: "R-0308",
      });
    case "detectors":
      return detectors(boat, {
        name: "detectors",
        address: 52,
        identity: 60_309,
        deviceClass: 30,
        deviceFunction: 130,
        model: "Contact monitor",
        serial: "S-0309",
      });
  }
}
