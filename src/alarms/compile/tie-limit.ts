import type { Curve, Limit } from "../rules/rule-parts.ts";
import type { LimitTest } from "../rules/test.ts";
import { CurveTable } from "./curve-table.ts";
import type { TiedCurve, TiedLimit } from "./instance.ts";
import { LowestOf } from "../measures/lowest-of.ts";
import type { Resolver } from "./resolver.ts";

/** A `low` or `high` in the numbers of its signal. */
export function tieLimit(
  test: LimitTest,
  setpoint: Limit | Curve,
  signal: number,
  resolver: Resolver,
): TiedLimit {
  const { deadband, signal: reference } = test;
  const curve = setpoint.kind === "curve" ? tieCurve(setpoint, signal, resolver) : null;
  const limit = setpoint.kind === "curve" ? NaN : resolver.limit(setpoint, signal, reference);
  const { amount, share } = resolver.apart(deadband, signal, reference);
  return {
    kind: test.kind,
    limit,
    curve,
    deadband: amount,
    deadbandShare: share,
    hair: resolver.hair(signal),
  };
}

function tieCurve(setpoint: Curve, signal: number, resolver: Resolver): TiedCurve {
  const along = resolver.signal(setpoint.along);
  const points = setpoint.points.map(({ at, limit }) => ({
    at: resolver.amount(at, along),
    limit: resolver.amount(limit, signal),
  }));
  const window = setpoint.lowestOf > 0 ? new LowestOf(setpoint.lowestOf) : null;
  return { table: new CurveTable(points), along, window };
}
