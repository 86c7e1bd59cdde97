import Geodesic from "geographiclib-geodesic";
import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, Readings } from "./measure.ts";

/** Degrees, north and east positive. */
export interface Point {
  readonly latitude: number;
  readonly longitude: number;
}

/** How many metres of ellipsoid (WGS 84) lie between the boat and a point; for `moved`. */
export class DistanceFrom implements Measure {
  figure = NaN;
  readonly isKept = false;
  readonly nextDue: Micros = Infinity;

  constructor(readonly point: Point, readonly latitude: number, readonly longitude: number) {}

  follow({ table }: Readings): void {
    const latitude = goodValue(table, this.latitude);
    const longitude = goodValue(table, this.longitude);
    this.figure = Number.isNaN(latitude) || Number.isNaN(longitude)
      ? NaN
      : distanceBetween(this.point, { latitude, longitude });
  }

  adopt(): void {}

  keep(): null {
    return null;
  }

  recall(): void {}
}

/** Metres along the shortest way. */
export function distanceBetween(one: Point, other: Point): number {
  const { s12 } = Geodesic.Geodesic.WGS84.Inverse(
    one.latitude,
    one.longitude,
    other.latitude,
    other.longitude,
    Geodesic.Geodesic.DISTANCE,
  );
  return s12 ?? NaN;
}
