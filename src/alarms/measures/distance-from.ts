import Geodesic from "geographiclib-geodesic";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, Readings } from "./measure.ts";

/** Degrees, north and east positive. */
export interface Point {
  readonly latitude: number;
  readonly longitude: number;
}

/** Numbers of the signals of the boat's position. */
export interface PositionSignals {
  readonly latitude: number;
  readonly longitude: number;
}

/** How many metres of ellipsoid (WGS 84) lie between the boat and a point; for `moved`. */
export class DistanceFrom implements Measure {
  figure = NaN;
  readonly isKept = false;
  readonly isOfAnswers = false;
  readonly nextDue: Micros = Infinity;

  constructor(readonly point: Point, readonly position: PositionSignals) {}

  follow({ table }: Readings): void {
    const here = positionNow(table, this.position);
    this.figure = here === null ? NaN : distanceBetween(this.point, here);
  }

  adopt(): void {}

  keep(): null {
    return null;
  }

  recall(): void {}
}

/** Where the boat is; null while not known. */
export function positionNow(table: SignalTable, signals: PositionSignals): Point | null {
  const latitude = goodValue(table, signals.latitude);
  const longitude = goodValue(table, signals.longitude);
  return Number.isNaN(latitude) || Number.isNaN(longitude) ? null : { latitude, longitude };
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
