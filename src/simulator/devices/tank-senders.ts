import { MILLISECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts, Sending } from "../sending.ts";
import { reading } from "../sender.ts";
import type { Tank } from "../tank.ts";

/** One box for the four tanks. */
export function tankSenders(
  boat: Cruiser,
  fuel: "fuel" | "fuel-gasoline",
  facts: DeviceFacts,
): Device {
  return new Device(facts, [
    level(boat.tanks["fuel-port"], fuel, 0),
    level(boat.tanks["fuel-starboard"], fuel, 1),
    level(boat.tanks.water, "water", 0),
    level(boat.tanks.holding, "black-water", 0),
  ]);
}

function level(tank: Tank, fluid: string, instance: number): Sending {
  return {
    pgn: 127505,
    period: 2500 * MILLISECOND,
    key: { instance, fluid, capacity: tank.capacity },
    measured: () => ({ level: reading(tank.level, 0.4) }),
  };
}
