import { SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import type { Random } from "../random.ts";
import { depthBelow } from "../sea-bed.ts";

export function sounder(boat: Cruiser, random: Random, facts: DeviceFacts): Device {
  return new Device(facts, [{
    pgn: 128267,
    period: SECOND,
    measured: (_time, sequence) => ({
      depth: Math.max(0.4, depthBelow(boat.motion) + random.noise(0.05)),
      offset: 0.3,
      "sequence-identifier": sequence,
    }),
  }]);
}
