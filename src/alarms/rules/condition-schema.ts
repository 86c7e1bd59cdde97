import { z } from "zod";
import type { Amount, Condition } from "./rule.ts";
import {
  amountText,
  durationText,
  equalsText,
  nameText,
  signalText,
  wordText,
} from "./rule-text.ts";

/** At least one word that a signal can read. */
export const wordList = z.array(wordText, { error: "a list of words" })
  .min(1, { error: "at least one word" });

/**
 * What `watch-while` takes: one of `all`, `any`, `not`, or a `signal` with one of `over`, `under`,
 * `equals`, `one-of`. `held` may stand beside any of them.
 */
export const conditionSchema: z.ZodType<Condition> = z.lazy(() =>
  z.strictObject({
    "all": conditionList.optional(),
    "any": conditionList.optional(),
    "not": conditionSchema.optional(),
    "signal": signalText.optional(),
    "of": nameText.optional(),
    "over": amountText.optional(),
    "under": amountText.optional(),
    "equals": equalsText.optional(),
    "one-of": wordList.optional(),
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

const conditionList = z.array(conditionSchema, { error: "a list of conditions" })
  .min(1, { error: "at least one condition" });

interface Written {
  readonly all?: Condition[];
  readonly any?: Condition[];
  readonly not?: Condition;
  readonly signal?: string;
  readonly of?: string;
  readonly over?: Amount;
  readonly under?: Amount;
  readonly equals?: Amount | string;
  readonly "one-of"?: string[];
}

/** The condition without `held`, or what was expected instead. */
function plainCondition(written: Written): Condition | string {
  const { all, any, not, signal, over, under, equals } = written;
  const words = written["one-of"];
  if ([all, any, not, signal].filter((part) => part !== undefined).length !== 1) {
    return "exactly one of all, any, not or signal";
  }
  const comparisons = [over, under, equals, words].filter((part) => part !== undefined).length;
  if (signal === undefined) {
    if (comparisons > 0 || written.of !== undefined) {
      return "over, under, equals, one-of and of only beside a signal";
    }
    if (all !== undefined) return { kind: "all", of: all };
    if (any !== undefined) return { kind: "any", of: any };
    if (not !== undefined) return { kind: "not", of: not };
  } else if (comparisons === 1) {
    const reference = { name: signal, of: written.of ?? null };
    if (over !== undefined) return { kind: "over", signal: reference, limit: over };
    if (under !== undefined) return { kind: "under", signal: reference, limit: under };
    if (words !== undefined) return { kind: "one-of", signal: reference, words };
    if (typeof equals === "string") return { kind: "one-of", signal: reference, words: [equals] };
    if (equals !== undefined) return { kind: "equals", signal: reference, amount: equals };
  }
  return "a signal with exactly one of over, under, equals or one-of";
}
