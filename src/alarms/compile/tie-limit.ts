import type { Setpoint, UsualSetpoint } from "../rules/rule-parts.ts";
import type { LimitTest } from "../rules/test.ts";
import { CurveTable } from "./curve-table.ts";
import type { TiedCurve, TiedLimit } from "./instance.ts";
import { LowestOf } from "./lowest-of.ts";
import type { Resolver } from "./resolver.ts";

/** A `low` or `high` in the numbers of its signal. */
export function tieLimit(
  test: LimitTest,
  setpoint: Exclude<Setpoint, UsualSetpoint>,
  signal: number,
  resolver: Resolver,
): TiedLimit {
  const { deadband, signal: reference } = test;
  let limit = NaN;
  let curve: TiedCurve | null = null;
  switch (setpoint.kind) {
    case "fixed":
      limit = resolver.amount(setpoint.amount, signal);
      break;
    case "share-of":
      limit = setpoint.share * resolver.number(setpoint.number, reference);
      break;
    case "per-nominal":
      limit = resolver.amount(setpoint.amount, signal) *
        (resolver.number("nominal", reference) / setpoint.per.value);
      break;
    case "curve": {
      const along = resolver.signal(setpoint.along);
      curve = {
        table: new CurveTable(setpoint.points.map((point) => ({
          at: resolver.amount(point.at, along),
          limit: resolver.amount(point.limit, signal),
        }))),
        along,
        window: setpoint.lowestOf > 0 ? new LowestOf(setpoint.lowestOf) : null,
      };
    }
  }
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
