import { SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import { onOrOff } from "../sender.ts";

/** Indicators 3 and 4: aft pump and high-water float; 5 and 6: forward. The rest has no wire. */
export function switchMonitor(boat: Cruiser, facts: DeviceFacts): Device {
  const { aft, forward } = boat.bilges;
  return new Device(facts, [{
    pgn: 127501,
    period: 15 * SECOND,
    key: { instance: 0 },
    measured: () => ({
      "indicator-3": onOrOff(aft.pumping),
      "indicator-4": onOrOff(aft.floating),
      "indicator-5": onOrOff(forward.pumping),
      "indicator-6": onOrOff(forward.floating),
    }),
    watched: () =>
      Number(aft.pumping) + 2 * Number(aft.floating) + 4 * Number(forward.pumping) +
      8 * Number(forward.floating),
  }]);
}
