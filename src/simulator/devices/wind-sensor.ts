import { MILLISECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";

export function windSensor(boat: Cruiser, facts: DeviceFacts): Device {
  return new Device(facts, [{
    pgn: 130306,
    period: 100 * MILLISECOND,
    key: { "wind-reference": "apparent" },
    measured: (_time, sequence) => ({
      "wind-speed": boat.wind.apparentSpeed,
      "wind-angle": boat.wind.apparentAngle,
      "sequence-identifier": sequence,
    }),
  }]);
}
