import { MILLISECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import type { Random } from "../random.ts";
import { kelvin, reading } from "../sender.ts";

/**
 * Measures the house bank and counts its charge; a second lead gives the start battery's voltage,
 * but neither its current nor its temperature.
 */
export function shunt(boat: Cruiser, random: Random, facts: DeviceFacts): Device {
  const { house, startBattery } = boat;
  const sign = () => boat.shuntReversed ? -1 : 1;
  return new Device(facts, [
    {
      pgn: 127508,
      period: 1500 * MILLISECOND,
      key: { instance: 0 },
      measured: (_time, sequence) => ({
        voltage: reading(house.volts + random.noise(0.01), 0.01),
        current: reading(sign() * house.current + random.noise(0.1), 0.1),
        temperature: reading(kelvin(18.5), 0.5),
        "sequence-identifier": sequence,
      }),
    },
    {
      pgn: 127508,
      period: 1500 * MILLISECOND,
      key: { instance: 1 },
      measured: (_time, sequence) => ({
        voltage: reading(startBattery.volts + random.noise(0.01), 0.01),
        "sequence-identifier": sequence,
      }),
    },
    {
      pgn: 127506,
      period: 1500 * MILLISECOND,
      key: { instance: 0, type: "battery" },
      measured: (_time, sequence) => ({
        "state-of-charge": Math.round(100 * boat.counted / house.capacity),
        "state-of-health": 98,
        "time-remaining": sign() * house.current < -1
          ? Math.min(65_000, Math.round(60 * boat.counted / Math.abs(house.current)))
          : null,
        capacity: house.capacity,
        "sequence-identifier": sequence,
      }),
    },
  ]);
}
