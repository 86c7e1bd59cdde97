import { type Micros, SECOND } from "../../ground/time.ts";
import { ApartFromStarts } from "../measures/apart-from-starts.ts";
import { ChangeWithin } from "../measures/change-within.ts";
import { CountWithin } from "../measures/count-within.ts";
import { DifferenceOfTwo } from "../measures/difference-of-two.ts";
import { DistanceFrom } from "../measures/distance-from.ts";
import { DistanceFromAnchor } from "../measures/distance-from-anchor.ts";
import { ShareOfUsual } from "../measures/share-of-usual.ts";
import { TimeWithin } from "../measures/time-within.ts";
import type { UsualManner } from "../measures/usual.ts";
import type { Difference, StartsSetpoint, UsualSetpoint } from "../rules/rule-parts.ts";
import type {
  CountTest,
  DeviationTest,
  LimitTest,
  MeasuredTest,
  MovedTest,
  RateTest,
  RunningTimeTest,
} from "../rules/test.ts";
import type { ConditionTie } from "./condition-tie.ts";
import type { TiedMeasure } from "./instance.ts";
import type { Resolver } from "./resolver.ts";

/** A measured test in the numbers of its signals; `conditions` gathers what it follows. */
export function tieMeasure(test: MeasuredTest, conditions: ConditionTie): TiedMeasure {
  switch (test.kind) {
    case "deviation":
      return tieDeviation(test, conditions);
    case "rate-of-change":
      return tieRate(test, conditions);
    case "count":
      return tieCount(test, conditions);
    case "running-time":
      return tieRunningTime(test, conditions);
    case "moved":
      return tieMoved(test, conditions);
  }
}

function tieDeviation(test: DeviationTest, conditions: ConditionTie): TiedMeasure {
  const { resolver } = conditions;
  const one = conditions.follow(test.signal, 0);
  const other = conditions.follow(test.against ?? test.signal, 1);
  refuseOtherUnit(one, other, resolver);
  const limit = resolver.apart(test.limit, one, test.signal);
  const facts = one < 0 ? null : resolver.table.facts[one];
  const asShare = limit.share > 0;
  const edge = {
    limit: asShare ? 100 * limit.share : limit.amount,
    hair: asShare ? 1e-9 : resolver.hair(one),
  };
  const figure = asShare
    ? { unit: "%", decimals: 1, isDifference: false } as const
    : { unit: facts?.unit ?? "", decimals: facts?.decimals ?? 0, isDifference: true };
  return {
    ...HIGH,
    measure: new DifferenceOfTwo(one, other, asShare, learned(test.usual, 40)),
    ...edge,
    deadband: deadbandOf(test.deadband, edge.limit, one, test, resolver),
    ...figure,
    otherName: resolver.nameOf(test.against ?? test.signal, 1),
  };
}

function tieRate(test: RateTest, conditions: ConditionTie): TiedMeasure {
  const { resolver } = conditions;
  const signal = conditions.follow(test.signal, 0);
  const facts = signal < 0 ? null : resolver.table.facts[signal];
  const { amount: limit, share } = resolver.apart(test.change, signal, test.signal);
  if (share > 0) resolver.refuse(`a ${test.side} in % leaves open of what`);
  const deadband = deadbandOf(test.deadband, limit, signal, test, resolver);
  const sign = test.side === "rise" ? 1 : -1;
  return {
    ...HIGH,
    measure: new ChangeWithin(signal, sign, test.within, limit - deadband),
    limit,
    hair: resolver.hair(signal),
    deadband,
    unit: facts?.unit ?? "",
    decimals: facts?.decimals ?? 0,
    isDifference: true,
  };
}

function tieCount(test: CountTest, conditions: ConditionTie): TiedMeasure {
  const { within, rest, side, count: limit, usual: written } = test;
  const usual = learned(written?.window ?? null, 2);
  const step = conditions.add(test.startsOf);
  return {
    ...HIGH,
    side: side === "at-least" ? "high" : "low",
    isReached: true,
    measure: new CountWithin(step, { within, rest, side, limit, usual }),
    limit: written?.times ?? limit,
    deadband: 0,
    hair: written === null ? 0.5 : 1e-9,
    unit: "1",
    decimals: written === null ? 0 : 1,
    isDifference: false,
  };
}

function tieRunningTime(test: RunningTimeTest, conditions: ConditionTie): TiedMeasure {
  const step = conditions.add(test.while);
  return {
    ...HIGH,
    isReached: true,
    measure: new TimeWithin(step, test.within ?? Infinity, test.atLeast),
    limit: test.atLeast / SECOND,
    deadband: 0,
    hair: 1e-7,
    unit: "s",
    decimals: 0,
    isDifference: false,
  };
}

function tieMoved(test: MovedTest, conditions: ConditionTie): TiedMeasure {
  const { resolver } = conditions;
  const { mooring } = resolver.boat;
  const from = test.from ?? mooring ?? null;
  const radius = test.radius ?? mooring?.radius;
  if (from === null || radius === undefined) {
    resolver.refuse("the boat file gives no mooring");
  }
  const follow = (name: string) => conditions.follow({ name, of: null }, 0);
  const position = {
    latitude: follow("position/latitude"),
    longitude: follow("position/longitude"),
  };
  return {
    ...HIGH,
    measure: from === "anchor"
      ? new DistanceFromAnchor(position, follow("boat/condition"))
      : new DistanceFrom(from ?? NOWHERE, position),
    limit: (radius ?? NaN) + test.fixError,
    deadband: test.deadband,
    hair: 1e-6,
    unit: "m",
    decimals: 0,
    isDifference: false,
  };
}

/** A `low` or `high` against what the signal usually reads. */
export function tieUsual(
  test: LimitTest,
  setpoint: UsualSetpoint,
  conditions: ConditionTie,
): TiedMeasure {
  const { resolver } = conditions;
  const signal = conditions.follow(test.signal, 0);
  const by = setpoint.by === null ? null : conditions.follow(setpoint.by.signal, 0);
  const width = setpoint.by === null || by === null
    ? Infinity
    : resolver.difference(setpoint.by.band, by);
  const manner = { window: setpoint.window, least: setpoint.window / 40, band: width };
  return {
    ...HIGH,
    side: test.kind,
    measure: new ShareOfUsual(signal, by, test.kind, manner),
    limit: setpoint.percent,
    deadband: test.deadband.kind === "share" ? test.deadband.percent : 0,
    hair: 1e-9,
    unit: "%",
    decimals: 1,
    isDifference: false,
  };
}

/** A `low` or `high` against the signal's own last starts. */
export function tieStarts(
  test: LimitTest,
  setpoint: StartsSetpoint,
  conditions: ConditionTie,
): TiedMeasure {
  const { resolver } = conditions;
  const signal = conditions.follow(test.signal, 0);
  const facts = signal < 0 ? null : resolver.table.facts[signal];
  const limit = resolver.apart(setpoint.apart, signal, test.signal).amount;
  const { starts, inARow } = setpoint;
  return {
    ...HIGH,
    measure: new ApartFromStarts(signal, test.kind, starts, inARow, limit),
    limit,
    deadband: deadbandOf(test.deadband, limit, signal, test, resolver),
    hair: resolver.hair(signal),
    unit: facts?.unit ?? "",
    decimals: facts?.decimals ?? 0,
    isDifference: true,
  };
}

/** One part in so many of the window must have been learned before anything is known. */
function learned(window: Micros | null, parts: number): UsualManner | null {
  return window === null ? null : { window, least: window / parts, band: Infinity };
}

const HIGH = { kind: "measured", side: "high", isReached: false, otherName: "" } as const;

const NOWHERE = { latitude: NaN, longitude: NaN };

/** A share is one of the limit, whatever the signal is measured in. */
function deadbandOf(
  deadband: Difference,
  limit: number,
  signal: number,
  { signal: reference }: DeviationTest | RateTest | LimitTest,
  resolver: Resolver,
): number {
  return deadband.kind === "share"
    ? limit * deadband.percent / 100
    : resolver.apart(deadband, signal, reference).amount;
}

function refuseOtherUnit(one: number, other: number, resolver: Resolver): void {
  if (one < 0 || other < 0) return;
  const { facts } = resolver.table;
  const [first, second] = [facts[one], facts[other]];
  if (first.unit === second.unit && first.words === null && second.words === null) return;
  resolver.refuse(`${first.name} and ${second.name} cannot be compared`);
}
