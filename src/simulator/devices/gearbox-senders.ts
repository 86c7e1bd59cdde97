import { MILLISECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts, Sending } from "../sending.ts";
import type { Side } from "../names.ts";
import type { Random } from "../random.ts";
import { kelvin, reading } from "../sender.ts";

/** Pa and °C at which the gearboxes' own lamps light. */
const LOW_PRESSURE = 400_000;
const HOT = 105;

/** Both gearboxes. */
export function gearboxSenders(boat: Cruiser, random: Random, facts: DeviceFacts): Device {
  const gearbox = (side: Side, instance: number): Sending => {
    const box = boat.gearboxes[side];
    return {
      pgn: 127493,
      period: 100 * MILLISECOND,
      key: { instance },
      measured: () => ({
        gear: box.engine.inGear ? "forward" : "neutral",
        "oil-pressure": reading(Math.max(0, box.pressure + random.noise(8_000)), 10_000),
        "oil-temperature": reading(kelvin(box.temperature), 0.5),
        status: [
          ...(box.temperature > HOT ? ["over-temperature"] : []),
          ...(box.engine.speed > 0 && box.pressure < LOW_PRESSURE ? ["low-oil-pressure"] : []),
        ],
      }),
    };
  };
  return new Device(facts, [gearbox("port", 0), gearbox("starboard", 1)]);
}
