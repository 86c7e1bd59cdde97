import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** Metres in a degree of latitude: enough for a boat that stays within a few miles. */
export const METRES_A_DEGREE = 111_200;
export const RADIANS = Math.PI / 180;
/** m/s through the water for each 1/min of both engines: about 9 kn at 2,200. */
const WAY = 0.0021;
/** Radians a second. */
const TURN = 4 * RADIANS;
/** m/s at which lines or the wind bring a moored boat to where it wanders. */
const DRIFT = 0.35;
/** Metres from the mooring at which the way is taken off her. */
const APPROACH = 40;

/** What the helm is told: to lie at the mooring, to steer for it, or to steer a course (rad). */
export type Steering = "moored" | "for-mooring" | number;

/** Where the boat is and how it moves, on a plane around its mooring. */
export class Motion {
  steering: Steering = "moored";
  /** m/s at which the anchor drags, before a south-westerly. */
  dragging = 0;
  /** Metres to the north-east that it has dragged. */
  #dragged = 0;
  /** Metres north and east of the mooring. */
  north = 0;
  east = 0;
  /** Radians, 0 to 2π, and m/s. */
  heading = 200 * RADIANS;
  courseOverGround = 200 * RADIANS;
  speedOverGround = 0;
  #way = 0;
  readonly #swing: Wander;
  readonly #surge: Wander;
  readonly #yaw: Wander;

  /** The mooring in degrees. */
  constructor(
    random: Random,
    readonly mooring: { readonly latitude: number; readonly longitude: number },
  ) {
    this.#swing = new Wander(random, 3, 90);
    this.#surge = new Wander(random, 2, 60);
    this.#yaw = new Wander(random, 3 * RADIANS, 20);
  }

  get latitude(): number {
    return this.mooring.latitude + this.north / METRES_A_DEGREE;
  }

  get longitude(): number {
    const metres = METRES_A_DEGREE * Math.cos(this.mooring.latitude * RADIANS);
    return this.mooring.longitude + this.east / metres;
  }

  get distanceFromMooring(): number {
    return Math.hypot(this.north, this.east);
  }

  /** `port` and `starboard`: speeds of the propellers' engines, 1/min, 0 out of gear. */
  step(seconds: number, port: number, starboard: number): void {
    this.#swing.step(seconds);
    this.#surge.step(seconds);
    this.#yaw.step(seconds);
    const [north, east] = this.steering === "moored"
      ? this.#lie(seconds)
      : this.#sail(seconds, this.steering, Math.sqrt((port ** 2 + starboard ** 2) / 2));
    this.north += north * seconds;
    this.east += east * seconds;
    this.speedOverGround = Math.hypot(north, east);
    if (this.speedOverGround > 0.01) this.courseOverGround = turned(Math.atan2(east, north));
  }

  /** Velocity north and east. */
  #lie(seconds: number): [number, number] {
    this.#way = 0;
    this.heading = turned(this.heading + this.#yaw.value * seconds / 20);
    this.#dragged += this.dragging * seconds;
    const away = this.#dragged * Math.SQRT1_2;
    const north = (this.#surge.value + away - this.north) / 10;
    const east = (this.#swing.value + away - this.east) / 10;
    const slower = Math.min(1, (DRIFT + this.dragging) / Math.max(0.001, Math.hypot(north, east)));
    return [north * slower, east * slower];
  }

  #sail(seconds: number, steering: "for-mooring" | number, speed: number): [number, number] {
    const wanted = steering === "for-mooring" ? Math.atan2(-this.east, -this.north) : steering;
    const off = Math.atan2(Math.sin(wanted - this.heading), Math.cos(wanted - this.heading));
    const turn = Math.min(TURN, Math.max(-TURN, off / 2 + this.#yaw.value / 2));
    this.heading = turned(this.heading + turn * seconds);
    const asked = steering === "for-mooring"
      ? WAY * speed * Math.min(1, this.distanceFromMooring / APPROACH)
      : WAY * speed;
    this.#way += (asked - this.#way) * seconds / 8;
    return [this.#way * Math.cos(this.heading), this.#way * Math.sin(this.heading)];
  }
}

/** The same angle between 0 and 2π. */
export function turned(angle: number): number {
  const rest = angle % (2 * Math.PI);
  return rest < 0 ? rest + 2 * Math.PI : rest;
}
