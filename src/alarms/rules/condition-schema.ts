import { z } from "zod";
import { type HoursOfDay, nameOfHours } from "../../boat/hours-of-day.ts";
import type { Amount, Condition, Difference, Limit } from "./rule-parts.ts";
import {
  clockText,
  differenceText,
  durationText,
  equalsText,
  limitText,
  nameText,
  reference,
  signalOrNumberText,
  signalText,
  wordText,
} from "./rule-text.ts";

/** At least one word that a signal can read. */
export const wordList = z.array(wordText, { error: "a list of words" })
  .min(1, { error: "at least one word" });

/**
 * What `watch-while` takes: one of `all`, `any`, `not`, `time-of-day`, or a `signal` with one of `over`, `under`,
 * `equals`, `one-of`, `within` (of the other twin, or of `against`). `held` may stand beside any of them.
 */
export const conditionSchema: z.ZodType<Condition> = z.lazy(() =>
  z.strictObject({
    "all": conditionList.optional(),
    "any": conditionList.optional(),
    "not": conditionSchema.optional(),
    "signal": signalOrNumberText.optional(),
    "of": nameText.optional(),
    "over": limitText.optional(),
    "under": limitText.optional(),
    "equals": equalsText.optional(),
    "one-of": wordList.optional(),
    "within": differenceText.optional(),
    "against": signalText.optional(),
    "time-of-day": hoursSchema.optional(),
    "held": durationText.optional(),
  }, { error: "a condition, such as { signal: speed, over: 500 rpm }" })
    .transform((written, context): Condition => {
      const plain = plainCondition(written);
      if (typeof plain === "string") {
        context.addIssue({ code: "custom", message: plain });
        return z.NEVER;
      }
      return written.held === undefined ? plain : { kind: "held", of: plain, length: written.held };
    })
);

const hoursSchema = z.strictObject({ "from": clockText, "to": clockText }, {
  error: "hours, such as { from: 22:00, to: 07:00 }",
}).refine(({ from, to }) => from !== to, { error: "two different times of the day" });

const conditionList = z.array(conditionSchema, { error: "a list of conditions" })
  .min(1, { error: "at least one condition" });

interface Written {
  readonly all?: Condition[];
  readonly any?: Condition[];
  readonly not?: Condition;
  readonly signal?: string;
  readonly of?: string;
  readonly over?: Limit;
  readonly under?: Limit;
  readonly equals?: Amount | string;
  readonly "one-of"?: string[];
  readonly within?: Difference;
  readonly against?: string;
  readonly "time-of-day"?: HoursOfDay;
}

/** The condition without `held`, or what was expected instead. */
function plainCondition(written: Written): Condition | string {
  const { all, any, not, signal, over, under, equals, within, against } = written;
  const words = written["one-of"];
  const hours = written["time-of-day"];
  if ([all, any, not, hours, signal].filter((part) => part !== undefined).length !== 1) {
    return "exactly one of all, any, not, time-of-day or signal";
  }
  const comparisons = [over, under, equals, words, within]
    .filter((part) => part !== undefined).length;
  if (against !== undefined && within === undefined) return "against only beside within";
  if (signal === undefined) {
    if (comparisons > 0 || written.of !== undefined) {
      return "over, under, equals, one-of, within and of only beside a signal";
    }
    if (all !== undefined) return { kind: "all", of: all };
    if (any !== undefined) return { kind: "any", of: any };
    if (not !== undefined) return { kind: "not", of: not };
    if (hours !== undefined) return isOn(nameOfHours(hours));
  } else if (comparisons === 1) {
    const named = reference(signal, written.of);
    if (over !== undefined) return { kind: "over", signal: named, limit: over };
    if (under !== undefined) return { kind: "under", signal: named, limit: under };
    if (words !== undefined) return { kind: "one-of", signal: named, words };
    if (typeof equals === "string") return { kind: "one-of", signal: named, words: [equals] };
    if (equals !== undefined) return { kind: "equals", signal: named, amount: equals };
    if (within !== undefined) {
      const other = against === undefined ? null : reference(against, undefined);
      return { kind: "within", signal: named, against: other, apart: within };
    }
  }
  return "a signal with exactly one of over, under, equals, one-of or within";
}

/** A condition, or the name of a switch, bit or contact alone: that it is on. */
export const stateSchema = z.union([signalText, conditionSchema], {
  error: "a condition, or the name of a signal that is on or off",
}).transform((written): Condition => typeof written === "string" ? isOn(written) : written);

function isOn(name: string): Condition {
  return { kind: "one-of", signal: reference(name, undefined), words: ["on"] };
}
