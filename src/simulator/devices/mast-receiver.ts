import { DAY, MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device, type DeviceFacts } from "../device.ts";
import type { Random } from "../random.ts";

/** Degrees: a fix is good to a metre or two. */
const FIX_NOISE = 3e-6;

/** The satellite receiver at the mast head. */
export function mastReceiver(boat: Cruiser, random: Random, facts: DeviceFacts): Device {
  const { motion } = boat;
  return new Device(facts, [
    {
      pgn: 129025,
      period: 100 * MILLISECOND,
      measured: () => ({
        latitude: motion.latitude + random.noise(FIX_NOISE),
        longitude: motion.longitude + random.noise(FIX_NOISE),
      }),
    },
    {
      pgn: 129026,
      period: 250 * MILLISECOND,
      key: { "course-reference": "true" },
      measured: (_time, sequence) => ({
        "course-over-ground": motion.courseOverGround,
        "speed-over-ground": Math.max(0, motion.speedOverGround + random.noise(0.05)),
        "sequence-identifier": sequence,
      }),
    },
    {
      pgn: 126992,
      period: SECOND,
      key: { "time-source": "gps" },
      measured: (time, sequence) => ({
        date: Math.floor(time / DAY),
        time: (time % DAY) / SECOND,
        "sequence-identifier": sequence,
      }),
    },
  ]);
}
