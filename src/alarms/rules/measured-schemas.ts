import { z } from "zod";
import { quantityText } from "../../units/quantity-text.ts";
import { stateSchema } from "./condition-schema.ts";
import {
  differenceText,
  durationText,
  lengthText,
  NO_DIFFERENCE,
  reference,
  signalKeys,
  signalText,
} from "./rule-text.ts";
import type { Test } from "./test.ts";

// The kinds of test that make a figure of what they follow, and `discrepancy`.

/** `{ signal: coolant-temperature, limit: 8 K }`, of twins or `against` another signal. */
const deviation = z.strictObject({
  ...signalKeys,
  "against": signalText.optional(),
  "limit": differenceText,
  "deadband": differenceText.optional(),
  "usual": lengthText.optional(),
}).transform((written): Test => ({
  kind: "deviation",
  signal: reference(written.signal, written.of),
  against: written.against === undefined ? null : reference(written.against, undefined),
  limit: written.limit,
  deadband: written.deadband ?? NO_DIFFERENCE,
  usual: written.usual ?? null,
}));

/** `{ signal: coolant-temperature, rise: 6 K, within: 60 s }` */
const rateOfChange = z.strictObject({
  ...signalKeys,
  "rise": differenceText.optional(),
  "fall": differenceText.optional(),
  "within": lengthText,
  "deadband": differenceText.optional(),
}).transform((written, context): Test => {
  const { rise, fall } = written;
  const change = rise ?? fall;
  if (change === undefined || rise !== undefined && fall !== undefined) {
    context.addIssue({ code: "custom", message: "either rise or fall" });
    return z.NEVER;
  }
  return {
    kind: "rate-of-change",
    signal: reference(written.signal, written.of),
    side: rise === undefined ? "fall" : "rise",
    change,
    within: written.within,
    deadband: written.deadband ?? NO_DIFFERENCE,
  };
});

/** `{ commanded: switch/blower/state, actual: { signal: current, under: -2 A } }` */
const discrepancy = z.strictObject({ "commanded": stateSchema, "actual": stateSchema })
  .transform((written): Test => ({ kind: "discrepancy", ...written }));

const wholeNumber = z.int({ error: "a whole number" });

/** `{ starts-of: pump, within: 1 h, at-least: 4 }` */
const count = z.strictObject({
  "starts-of": stateSchema,
  "rest": durationText.optional(),
  "within": lengthText,
  "at-least": wholeNumber.min(1, { error: "a whole number above nothing" }).optional(),
  "at-most": wholeNumber.min(0, { error: "a whole number, or 0 for never" }).optional(),
  "usual": lengthText.optional(),
  "times": z.number({ error: "a number above 1" }).gt(1, { error: "a number above 1" }).optional(),
}).transform((written, context): Test => {
  const [atLeast, atMost] = [written["at-least"], written["at-most"]];
  const counted = atLeast ?? atMost;
  if (counted === undefined || atLeast !== undefined && atMost !== undefined) {
    context.addIssue({ code: "custom", message: "either at-least or at-most" });
    return z.NEVER;
  }
  const { usual, times } = written;
  if (
    (usual === undefined) !== (times === undefined) || usual !== undefined && atMost !== undefined
  ) {
    context.addIssue({ code: "custom", message: "usual and times together, beside at-least" });
  }
  return {
    kind: "count",
    startsOf: written["starts-of"],
    rest: written.rest ?? 0,
    within: written.within,
    side: atLeast === undefined ? "at-most" : "at-least",
    count: counted,
    usual: usual === undefined || times === undefined ? null : { window: usual, times },
  };
});

/** `{ while: pump, at-least: 3 min }`, or `within: 24 h` beside it */
const runningTime = z.strictObject({
  "while": stateSchema,
  "within": lengthText.optional(),
  "at-least": lengthText,
}).transform((written): Test => ({
  kind: "running-time",
  while: written.while,
  within: written.within ?? null,
  atLeast: written["at-least"],
}));

const metres = quantityText("length", { from: 0, words: "a length" });

const point = z.strictObject({
  "latitude": quantityText("angle", { from: -90, to: 90, words: "a latitude, south negative" }),
  "longitude": quantityText("angle", { from: -180, to: 180, words: "a longitude, west negative" }),
});

/** `{}` for the mooring of the boat file; another point with `from` and `radius`. */
const moved = z.strictObject({
  "from": z.union([point, z.literal("anchor")], {
    error: "anchor, or a point such as { latitude: 50.4°, longitude: -7.9° }",
  }).optional(),
  "radius": metres.optional(),
  "fix-error": metres.optional(),
  "deadband": metres.optional(),
}).transform((written, context): Test => {
  if (written.from !== undefined && written.radius === undefined) {
    context.addIssue({ code: "custom", message: "a radius beside from" });
  }
  return {
    kind: "moved",
    from: written.from ?? null,
    radius: written.radius ?? null,
    fixError: written["fix-error"] ?? USUAL_FIX_ERROR,
    deadband: written.deadband ?? 0,
  };
});

/** Metres; common practice for a receiver aboard without corrections. */
const USUAL_FIX_ERROR = 15;

/** By the key under which a rule file has them. */
export const measuredSchemas = {
  "deviation": deviation,
  "rate-of-change": rateOfChange,
  "discrepancy": discrepancy,
  "count": count,
  "running-time": runningTime,
  "moved": moved,
};
