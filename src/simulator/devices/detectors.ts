import { SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import { onOrOff } from "../sender.ts";

/** Contacts of the vapour and carbon monoxide detectors, and of their own fault. */
export function detectors(boat: Cruiser, facts: DeviceFacts): Device {
  const contacts = boat.detectors;
  return new Device(facts, [{
    pgn: 127501,
    period: 15 * SECOND,
    key: { instance: 1 },
    measured: () => ({
      "indicator-1": onOrOff(contacts.petrolVapour),
      "indicator-2": onOrOff(contacts.carbonMonoxide),
      "indicator-3": onOrOff(contacts.faulty),
    }),
    watched: () =>
      Number(contacts.petrolVapour) + 2 * Number(contacts.carbonMonoxide) +
      4 * Number(contacts.faulty),
  }]);
}
