import type { Motion } from "./motion.ts";

/** Metres of water under the sounder: 3 m at the mooring, deeper further out, with ridges. */
export function depthBelow(motion: Motion): number {
  const ridges = 0.5 * Math.sin(motion.north / 37) + 0.4 * Math.sin(motion.east / 53);
  const far = motion.distanceFromMooring;
  return 3 + 0.012 * far + ridges * Math.min(1, far / 100);
}
