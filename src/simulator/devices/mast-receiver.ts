import { MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import type { Random } from "../random.ts";

/** Degrees: a fix is good to a metre or two. */
const FIX_NOISE = 3e-6;

/** The satellite receiver at the mast head. */
export function mastReceiver(boat: Cruiser, random: Random, facts: DeviceFacts): Device {
  const { motion, satelliteFix: fix } = boat;
  return new Device(facts, [
    {
      pgn: 129025,
      period: 100 * MILLISECOND,
      measured: () => ({
        latitude: shaken(fix.latitude, random),
        longitude: shaken(fix.longitude, random),
      }),
    },
    {
      pgn: 129026,
      period: 250 * MILLISECOND,
      key: { "course-reference": "true" },
      measured: (_time, sequence) => ({
        "course-over-ground": fix.moving ? motion.courseOverGround : null,
        "speed-over-ground": fix.moving
          ? Math.max(0, motion.speedOverGround + random.noise(0.05))
          : null,
        "sequence-identifier": sequence,
      }),
    },
    {
      pgn: 126992,
      period: SECOND,
      key: { "time-source": "gps" },
      measured: (time, sequence) => ({
        ...fix.dateAndTime(time),
        "sequence-identifier": sequence,
      }),
    },
  ]);
}

function shaken(degrees: number | null, random: Random): number | null {
  const by = random.noise(FIX_NOISE);
  return degrees === null || degrees === 0 ? degrees : degrees + by;
}
