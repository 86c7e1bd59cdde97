import { z } from "zod";
import { type RuleEntry, ruleEntrySchema } from "./rule-schema.ts";

const entryParts = z.record(z.string(), z.unknown());

/**
 * What of an entry with faults can be judged all the same, so that all its problems come at once: the
 * entry without the keys that are at fault. Undefined where too little is left.
 */
export function soundEntry(written: unknown): RuleEntry | undefined {
  const whole = ruleEntrySchema.safeParse(written);
  if (whole.success) return whole.data;
  const parts = entryParts.safeParse(written);
  if (!parts.success) return undefined;
  const faulty = new Set(whole.error.issues.flatMap(keysAtFault));
  const rest = Object.entries(parts.data).filter(([key]) => !faulty.has(key));
  const sound = ruleEntrySchema.safeParse({ ...STAND_INS, ...Object.fromEntries(rest) });
  return sound.success ? sound.data : undefined;
}

function keysAtFault(issue: z.core.$ZodIssue): PropertyKey[] {
  const isOfEntry = issue.code === "unrecognized_keys" && issue.path.length === 0;
  return isOfEntry ? issue.keys : issue.path.slice(0, 1);
}

/** No problem of another key hangs on these. */
const STAND_INS = { title: "A rule", priority: "caution" };
