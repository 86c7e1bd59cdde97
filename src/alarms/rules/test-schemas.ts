import { z } from "zod";
import { quantityText } from "../../units/quantity-text.ts";
import { wordList } from "./condition-schema.ts";
import { measuredSchemas } from "./measured-schemas.ts";
import type { Curve, Setpoint } from "./rule-parts.ts";
import { readAmount, readLimit } from "./rule-amounts.ts";
import {
  amountText,
  differenceText,
  durationText,
  lengthText,
  nameText,
  NO_DIFFERENCE,
  reference,
  signalKeys,
  signalOrNumberText,
  signalText,
  switchText,
  taken,
} from "./rule-text.ts";
import type { Test } from "./test.ts";

// One schema for each kind of test: the key in the rule file, what a person writes under it, and
// the `Test` that it becomes.

/** A key of a curve; its amount is read once more with the point, since keys stay texts. */
const pointKey = z.string().superRefine((text, context) => {
  taken(readAmount(text), context);
});

const curvePoints = z.record(pointKey, amountText, {
  error: "points, such as { 700 rpm: 10 psi, 2600 rpm: 30 psi }",
}).transform((written, context): Curve["points"] => {
  const points = Object.entries(written)
    .map(([text, limit]) => ({ at: taken(readAmount(text), context), limit }))
    .toSorted((a, b) => a.at.value - b.at.value);
  if (
    points.length === 0 || points.some((point, i) => point.at.value === points[i - 1]?.at.value)
  ) {
    context.addIssue({ code: "custom", message: "at least one point, and each place only once" });
  }
  return points;
});

const curve = z.strictObject({
  "along": signalText,
  "of": nameText.optional(),
  "lowest-of": durationText.optional(),
  "curve": curvePoints,
});

/** `{ usual: 20 h, share: 75 %, by: speed, band: 200 rpm }` */
const usual = z.strictObject({
  "usual": lengthText,
  "share": quantityText("share", { over: 0, words: "a percentage above nothing" }),
  "by": signalText.optional(),
  "of": nameText.optional(),
  "band": amountText.optional(),
});

/** `10 starts` */
const startsText = z.string({ error: "a number of starts, such as 10 starts" })
  .regex(/^[1-9]\d{0,2} starts?$/, { error: "a number of starts, such as 10 starts" })
  .transform((written) => Number.parseInt(written));

/** `{ usual: 10 starts, apart: 0.7 V, in-a-row: 3 }` */
const usualStarts = z.strictObject({
  "usual": startsText,
  "apart": differenceText,
  "in-a-row": z.int({ error: "a whole number" }).min(1, { error: "one start at least" }).optional(),
});

const setpoint = z.union([z.number(), z.string(), curve, usual, usualStarts], {
  error: "a number with its unit, such as 10 psi, or a curve along a signal",
}).transform((written, context): Setpoint => {
  if (typeof written !== "object") return taken(readLimit(written), context);
  if ("apart" in written) {
    const { usual: starts, apart } = written;
    return { kind: "starts", starts, apart, inARow: written["in-a-row"] ?? 1 };
  }
  if ("usual" in written) {
    const { by, band } = written;
    if ((by === undefined) !== (band === undefined) || band !== undefined && band.value <= 0) {
      context.addIssue({ code: "custom", message: "by and the width of a band together" });
    }
    return {
      kind: "usual",
      window: written.usual,
      percent: written.share,
      by: by === undefined || band === undefined
        ? null
        : { signal: reference(by, written.of), band },
    };
  }
  return {
    kind: "curve",
    along: reference(written.along, written.of),
    lowestOf: written["lowest-of"] ?? 0,
    points: written.curve,
  };
});

function limitSchema(kind: "low" | "high") {
  return z.strictObject({ ...signalKeys, setpoint, "deadband": differenceText.optional() })
    .transform((written): Test => ({
      kind,
      signal: reference(written.signal, written.of),
      setpoint: written.setpoint,
      deadband: written.deadband ?? NO_DIFFERENCE,
    }));
}

/** `{ signal: operating-state, one-of: [fault] }` */
const reads = z.strictObject({ ...signalKeys, "one-of": wordList })
  .transform((written): Test => ({
    kind: "reads",
    signal: reference(written.signal, written.of),
    oneOf: written["one-of"],
  }));

/**
 * `{ signal: status/low-oil-pressure }` for one bit that is on, or
 * `{ bits: { status/charge-indicator: on, status/preheat: off } }` for bits that must all stand so.
 */
const bitPattern = z.strictObject({
  "signal": signalOrNumberText.optional(),
  "of": nameText.optional(),
  "bits": z.record(signalText, switchText, {
    error: "bits, such as { status/low-oil-pressure: on }",
  }).optional(),
}).transform((written, context): Test => {
  if ((written.signal === undefined) === (written.bits === undefined)) {
    context.addIssue({ code: "custom", message: "either one signal, or bits" });
    return z.NEVER;
  }
  const bits = Object.entries(written.bits ?? { [written.signal ?? ""]: true });
  return {
    kind: "bit-pattern",
    bits: bits.map(([name, on]) => ({ signal: reference(name, written.of), on })),
  };
});

const notHeard = z.strictObject(signalKeys).transform((written): Test => ({
  kind: "not-heard",
  signal: reference(written.signal, written.of),
}));

/** By the key under which a rule file has them. */
export const testSchemas = {
  "low": limitSchema("low"),
  "high": limitSchema("high"),
  "reads": reads,
  "bit-pattern": bitPattern,
  "not-heard": notHeard,
  ...measuredSchemas,
};
