import { SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts, Sending } from "../sending.ts";
import type { Side } from "../names.ts";
import { kelvin, reading } from "../sender.ts";

/** Both exhaust elbows: port is instance 0, starboard 1. */
export function exhaustSenders(boat: Cruiser, facts: DeviceFacts): Device {
  const elbow = (side: Side, instance: number): Sending => ({
    pgn: 130316,
    period: 2 * SECOND,
    key: { instance, place: "exhaust-gas" },
    measured: (_time, sequence) => ({
      temperature: reading(kelvin(boat.exhausts[side].temperature), 0.5),
      "sequence-identifier": sequence,
    }),
  });
  return new Device(facts, [elbow("port", 0), elbow("starboard", 1)]);
}

export function engineRoomSender(boat: Cruiser, facts: DeviceFacts): Device {
  return new Device(facts, [{
    pgn: 130312,
    period: 2 * SECOND,
    key: { instance: 0, place: "engine-room" },
    measured: (_time, sequence) => ({
      temperature: reading(kelvin(boat.engineRoom.temperature), 0.1),
      "sequence-identifier": sequence,
    }),
  }]);
}
