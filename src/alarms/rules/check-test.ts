import { checkCondition } from "./check-condition.ts";
import { checkLimit } from "./check-limit.ts";
import { CRANKING_VOLTAGE } from "../../boat/derived-signals.ts";
import type { SignalReference, StartsSetpoint } from "./rule-parts.ts";
import { ENGINE_PAIR, isAbsolute, placeOfName } from "./signal-name.ts";
import type { Fit, SignalCheck } from "./signal-check.ts";
import type { DeviationTest, LimitTest, RateTest, Test } from "./test.ts";

/** Holds a test against the signals that it names. */
export function checkTest(check: SignalCheck, test: Test): void {
  const path = [test.kind];
  switch (test.kind) {
    case "low":
    case "high":
      checkOneTwin(check, test.signal, path);
      return checkLimitTest(check, test);
    case "reads":
      checkOneTwin(check, test.signal, path);
      return check.words(test.signal, test.oneOf, path);
    case "bit-pattern":
      for (const bit of test.bits) {
        checkOneTwin(check, bit.signal, path);
        check.unitOf(bit.signal, path);
      }
      return;
    case "not-heard":
      checkOneTwin(check, test.signal, path);
      check.unitOf(test.signal, path);
      return;
    case "deviation":
      return checkDeviation(check, test);
    case "rate-of-change":
      checkOneTwin(check, test.signal, path);
      return checkRate(check, test);
    case "discrepancy":
      checkCondition(check, test.commanded, [...path, "commanded"]);
      return checkCondition(check, test.actual, [...path, "actual"]);
    case "count":
      return checkCondition(check, test.startsOf, [...path, "starts-of"]);
    case "running-time":
      return checkCondition(check, test.while, [...path, "while"]);
    case "moved":
      return;
  }
}

/** A rule about twins compares them; it does not ask about one. */
function checkOneTwin(check: SignalCheck, reference: SignalReference, path: readonly string[]) {
  if (check.each !== ENGINE_PAIR || reference.of !== null || isAbsolute(reference.name)) return;
  check.conflict(
    path,
    `"${reference.name}" is a signal of one engine, and this rule is about two`,
    "compare them with deviation, or say each: engine",
  );
}

function checkLimitTest(check: SignalCheck, test: LimitTest): void {
  const { kind, setpoint, deadband, signal: reference } = test;
  const unit = check.unitOf(reference, [kind]);
  const fit: Fit = { reference, unit, path: [kind, "setpoint"] };
  if (setpoint.kind === "usual") {
    if (setpoint.by === null) return;
    const { signal, band } = setpoint.by;
    const unit = check.unitOf(signal, fit.path, "by");
    check.fits(band, "band", { reference: signal, unit, path: [...fit.path, "band"] });
    return;
  } else if (setpoint.kind === "starts") {
    checkStarts(check, setpoint, fit);
  } else if (setpoint.kind !== "curve") {
    checkLimit(check, setpoint, fit);
  } else {
    const alongUnit = check.unitOf(setpoint.along, fit.path);
    for (const point of setpoint.points) {
      const path = [...fit.path, "curve", point.at.written];
      check.fits(point.at, "place", { reference: setpoint.along, unit: alongUnit, path });
      check.fits(point.limit, "limit", { ...fit, path });
    }
  }
  check.differenceFits(deadband, "deadband", { ...fit, path: [kind, "deadband"] });
}

/** Only what is told once a start can be counted by starts. */
function checkStarts(check: SignalCheck, { apart }: StartsSetpoint, fit: Fit): void {
  const { reference, path } = fit;
  const { quantity } = placeOfName(reference.name);
  if (quantity !== CRANKING_VOLTAGE && reference.name !== CRANKING_VOLTAGE) {
    check.conflict(
      path,
      `"${reference.name}" is not told once a start`,
      `count the usual in hours, such as usual: 20 h, or judge ${CRANKING_VOLTAGE}`,
    );
  }
  if (apart.kind === "share" && fit.unit !== "%") {
    check.conflict(path, "a share leaves open of what", "write apart with its unit, such as 0.7 V");
  } else check.differenceFits(apart, "difference", { ...fit, path: [...path, "apart"] });
}

function checkDeviation(check: SignalCheck, test: DeviationTest): void {
  const { signal: reference, against, limit, deadband } = test;
  const unit = check.unitOf(reference, ["deviation"]);
  if (against === null && check.each !== ENGINE_PAIR) {
    check.conflict(
      ["deviation"],
      "a deviation compares two signals, and only one is named",
      "name the other with against, or say each: engine-pair",
    );
  }
  if (against !== null) {
    const otherUnit = check.unitOf(against, ["deviation"], "against");
    if (otherUnit !== undefined) {
      const other = { value: 0, code: otherUnit, written: against.name };
      check.fits(other, "signal", { reference, unit, path: ["deviation", "against"] });
    }
  }
  check.differenceFits(limit, "limit", { reference, unit, path: ["deviation", "limit"] });
  // The deadband of a share is a share of that share: of no temperature.
  if (deadband.kind === "share" || limit.kind === "share") return;
  check.differenceFits(deadband, "deadband", { reference, unit, path: ["deviation", "deadband"] });
}

function checkRate(check: SignalCheck, test: RateTest): void {
  const { signal: reference, side, change, deadband } = test;
  const path = ["rate-of-change"];
  const unit = check.unitOf(reference, path);
  if (change.kind === "share" && unit !== undefined && unit !== "%") {
    check.conflict(
      [...path, side],
      `a ${side} of ${change.percent} % leaves open of what`,
      "write how far the signal goes, with its unit",
    );
  } else {
    check.differenceFits(change, side, { reference, unit, path: [...path, side] });
  }
  if (deadband.kind === "share") return;
  check.differenceFits(deadband, "deadband", { reference, unit, path: [...path, "deadband"] });
}
