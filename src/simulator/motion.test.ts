import { describe, expect, test } from "vitest";
import { Motion, RADIANS } from "./motion.ts";
import { Random } from "./random.ts";

const MOORING = { latitude: 50.4, longitude: -7.9 };

function move(motion: Motion, seconds: number, speed: number): void {
  for (let time = 0; time < seconds; time += 0.05) motion.step(0.05, speed, speed);
}

describe("a boat", () => {
  test("at its mooring wanders a few metres and hardly moves over ground", () => {
    const motion = new Motion(new Random(5, "motion"), MOORING);
    let farthest = 0;
    let fastest = 0;
    for (let minute = 0; minute < 120; minute++) {
      move(motion, 60, 0);
      farthest = Math.max(farthest, motion.distanceFromMooring);
      fastest = Math.max(fastest, motion.speedOverGround);
    }
    expect(farthest).toBeGreaterThan(2);
    expect(farthest).toBeLessThan(20);
    expect(fastest).toBeLessThan(0.4);
  });

  test("under way makes about nine knots at 2,200 rpm on the course that it is given", () => {
    const motion = new Motion(new Random(5, "motion"), MOORING);
    motion.steering = 90 * RADIANS;
    move(motion, 300, 2200);
    expect(motion.speedOverGround / 0.5144).toBeGreaterThan(8);
    expect(motion.speedOverGround / 0.5144).toBeLessThan(10);
    expect(Math.abs(motion.courseOverGround / RADIANS - 90)).toBeLessThan(8);
    expect(motion.longitude).toBeGreaterThan(MOORING.longitude + 0.01);
    expect(Math.abs(motion.latitude - MOORING.latitude)).toBeLessThan(0.002);
  });

  test("moves as far as its speed over ground says", () => {
    const motion = new Motion(new Random(6, "motion"), MOORING);
    motion.steering = 0;
    move(motion, 120, 1500);
    const before = motion.latitude;
    const speed = motion.speedOverGround;
    move(motion, 100, 1500);
    // A metre of latitude there, from the WGS 84 series: 111,245 m in a degree at 50.4° north.
    const metres = (motion.latitude - before) * 111_245;
    expect(Math.abs(metres / (speed * 100) - 1)).toBeLessThan(0.02);
  });
});
