import type { Place, Problem } from "../../ground/problem.ts";
import type { UnitCode } from "../../units/codes.ts";
import { sayDuration } from "../../units/duration.ts";
import { convert, scaleOf } from "../../units/scale.ts";
import type { Amount, SignalReference } from "./rule-parts.ts";
import type { Rule } from "./rule.ts";
import { isSameDimension, type QuantityCatalogue, type RulePath } from "./signal-check.ts";
import { kindOfSignal } from "./signal-name.ts";
import type { LimitTest, Test } from "./test.ts";

/** What no signal goes beyond, in its unit; the bounds themselves can be reached. */
interface Bounds {
  readonly unit: UnitCode;
  readonly from: number;
  readonly to: number;
}

/** Of what is worked out, and so has no message to say it. */
const BOUNDS: Partial<Record<UnitCode, Omit<Bounds, "unit">>> = {
  "%": { from: 0, to: 125 },
  "1/min": { from: 0, to: Infinity },
  "L": { from: 0, to: Infinity },
  "L/h": { from: 0, to: Infinity },
  "h": { from: 0, to: Infinity },
  "m": { from: 0, to: Infinity },
  "m/s": { from: 0, to: Infinity },
  "1": { from: 0, to: Infinity },
};

type PlaceOf = (path: RulePath) => Place;

/** Notices that a rule as it is written can never be raised, whatever is sent. */
export function neverRaised(
  rule: Rule,
  catalogue: QuantityCatalogue,
  place: PlaceOf,
): Problem[] {
  const { test, onDelay } = rule;
  const boundsOf = (reference: SignalReference): Bounds | undefined => {
    const kind = kindOfSignal(reference, rule.each);
    return kind === null ? undefined : boundsIn(catalogue, kind.group, kind.quantity);
  };
  const notes: [RulePath, string][] = [];
  if (test.kind === "low" || test.kind === "high") notes.push(...outOfReach(test, boundsOf));
  if (test.kind === "running-time" && test.within !== null && test.atLeast > test.within) {
    notes.push([
      [test.kind, "at-least"],
      `it waits for ${sayDuration(test.atLeast)} in a window of ${sayDuration(test.within)}`,
    ]);
  }
  if (test.kind === "count" && test.side === "at-least") {
    const apart = (test.count - 1) * test.rest;
    if (apart >= test.within) {
      notes.push([
        [test.kind, "rest"],
        `${test.count} starts with a rest of ${sayDuration(test.rest)} between them do not fit a ` +
        `window of ${sayDuration(test.within)}`,
      ]);
    }
  }
  const window = windowOf(test);
  if (window !== null && onDelay >= window) {
    notes.push([
      ["on-delay"],
      `its on-delay of ${sayDuration(onDelay)} outlasts its window of ${sayDuration(window)}`,
    ]);
  }
  return notes.map(([path, why]) => notice(rule, why, place(path)));
}

function notice({ tag }: Rule, why: string, place: Place): Problem {
  return { kind: "notice", place, found: tag, note: `never raised: ${why}` };
}

function outOfReach(
  test: LimitTest,
  boundsOf: (reference: SignalReference) => Bounds | undefined,
): [RulePath, string][] {
  const { kind, setpoint, signal } = test;
  const bounds = boundsOf(signal);
  const notes: [RulePath, string][] = [];
  const limits = setpoint.kind === "curve"
    ? setpoint.points.map(({ limit }) => limit)
    : setpoint.kind === "fixed"
    ? [setpoint.amount]
    : [];
  const isOut = (limit: Amount) => {
    if (bounds === undefined) return false;
    const value = valueIn(bounds.unit, limit);
    return kind === "low" ? value <= bounds.from : value >= bounds.to;
  };
  if (limits.length > 0 && limits.every(isOut)) {
    const written = limits.map((limit) => limit.written).join(", ");
    notes.push([
      [kind, "setpoint"],
      `its signal is never ${kind === "low" ? "under" : "over"} ${written}`,
    ]);
  }
  if (setpoint.kind !== "curve") return notes;
  const along = boundsOf(setpoint.along);
  const isBeyond = setpoint.points.length > 1 && along !== undefined &&
    setpoint.points.map(({ at }) => valueIn(along.unit, at))
      .every((at) => at < along.from || at > along.to);
  if (isBeyond) {
    notes.push([[kind, "setpoint"], `its curve lies where ${setpoint.along.name} never is`]);
  }
  return notes;
}

/** Undefined where nothing is known. */
function boundsIn(
  catalogue: QuantityCatalogue,
  group: string,
  quantity: string,
): Bounds | undefined {
  const unit = catalogue.unitOf(group, quantity);
  if (unit === undefined) return undefined;
  const { from, to } = BOUNDS[unit] ?? { from: -Infinity, to: Infinity };
  const { least, most } = catalogue.reachOf?.(group, quantity) ?? { least: from, most: to };
  return { unit, from: Math.max(from, least), to: Math.min(to, most) };
}

/** An amount is written in any unit of the dimension: the check of units has its own words for others. */
function valueIn(unit: UnitCode, { value, code }: Amount): number {
  if (unit === "" || code === "" || !isSameDimension(unit, code)) return NaN;
  return convert(value, scaleOf(code), scaleOf(unit));
}

/** After which a single happening is forgotten; null for tests without a window. */
function windowOf(test: Test): number | null {
  return test.kind === "rate-of-change" || test.kind === "count" && test.side === "at-least"
    ? test.within
    : null;
}
