import { hoursOfName } from "../../boat/hours-of-day.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import type { UnitCode } from "../../units/codes.ts";
import { sayDuration } from "../../units/duration.ts";
import { convert, scaleOf } from "../../units/scale.ts";
import type { Amount, Condition, SignalReference } from "./rule-parts.ts";
import type { Rule } from "./rule.ts";
import { isSameDimension, type QuantityCatalogue, type RulePath } from "./signal-check.ts";
import { groupOfEach, isAbsolute, kindOfSignal, placeOfName, sayReference } from "./signal-name.ts";
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
  const window = windowOf(test);
  if (window !== null && onDelay >= window) {
    notes.push([
      ["on-delay"],
      `its on-delay of ${sayDuration(onDelay)} outlasts its window of ${sayDuration(window)}`,
    ]);
  }
  return notes.map(([path, why]) => notice(rule, why, place(path)));
}

/**
 * Notices that nobody sends what a rule needs.
 * @param heard whole names of every signal that was heard
 * @param place where the rule stands
 */
export function neverSent(rule: Rule, heard: ReadonlySet<string>, place: Place): Problem[] {
  const kinds = new Set([...heard].map((name) => {
    const { group, quantity } = placeOfName(name);
    return `${group}/${quantity}`;
  }));
  const missing = new Set(
    referencesOf(rule).filter((reference) => !isHeard(reference, rule, heard, kinds))
      .map((reference) => sayReference(reference, rule.each)),
  );
  return [...missing].map((name) => notice(rule, `nothing sends ${name}`, place));
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

function isHeard(
  reference: SignalReference,
  rule: Rule,
  heard: ReadonlySet<string>,
  kinds: ReadonlySet<string>,
): boolean {
  if (reference.of === null && isAbsolute(reference.name)) {
    return heard.has(reference.name) || hoursOfName(reference.name) !== null;
  }
  const group = reference.of ?? (rule.each === null ? null : groupOfEach(rule.each));
  return group === null || kinds.has(`${group}/${reference.name}`);
}

/** Every signal without which the rule cannot be judged. */
function referencesOf({ test, watchWhile }: Rule): SignalReference[] {
  const watched = watchWhile === null ? [] : signalsOf(watchWhile);
  return [...signalsOfTest(test), ...watched];
}

function signalsOfTest(test: Test): readonly SignalReference[] {
  switch (test.kind) {
    case "bit-pattern":
      return test.bits.map(({ signal }) => signal);
    case "discrepancy":
      return [...signalsOf(test.commanded), ...signalsOf(test.actual)];
    case "count":
      return signalsOf(test.startsOf);
    case "running-time":
      return signalsOf(test.while);
    case "moved":
      return ["latitude", "longitude"].map((name) => ({ name: `position/${name}`, of: null }));
    case "deviation":
      return test.against === null ? [test.signal] : [test.signal, test.against];
    case "low":
    case "high":
      return test.setpoint.kind === "curve" ? [test.signal, test.setpoint.along] : [test.signal];
    default:
      return [test.signal];
  }
}

function signalsOf(condition: Condition): readonly SignalReference[] {
  switch (condition.kind) {
    case "all":
      return condition.of.flatMap(signalsOf);
    // One of several may be enough.
    case "any":
      return [];
    case "not":
    case "held":
      return signalsOf(condition.of);
    case "within":
      return condition.against === null
        ? [condition.signal]
        : [condition.signal, condition.against];
    default:
      return [condition.signal];
  }
}
