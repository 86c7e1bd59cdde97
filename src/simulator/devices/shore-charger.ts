import { MILLISECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";

export function shoreCharger(boat: Cruiser, facts: DeviceFacts): Device {
  const { charger } = boat;
  return new Device(facts, [{
    pgn: 127507,
    period: 1500 * MILLISECOND,
    key: { instance: 0, "battery-instance": 0 },
    measured: () => ({
      "operating-state": charger.state,
      "charge-mode": "standalone",
      enabled: charger.shorePower ? "on" : "off",
      "equalisation-pending": "no",
      "equalisation-time-remaining": 0,
    }),
    watched: () => WATCHED.indexOf(charger.state),
  }]);
}

const WATCHED = ["not-charging", "bulk", "absorption", "float", "fault"];
