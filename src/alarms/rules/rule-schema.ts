import { z } from "zod";
import { PRIORITIES } from "../words.ts";
import { conditionSchema } from "./condition-schema.ts";
import {
  durationText,
  lengthText,
  nameText,
  sentenceText,
  subjectText,
  switchText,
  wordText,
} from "./rule-text.ts";
import { testSchemas } from "./test-schemas.ts";

z.config({ jitless: true });

/** What a rule can unfold over: the groups of the boat, and the pair of twins. */
export const EACH = [
  "engine",
  "gearbox",
  "generator",
  "battery",
  "charger",
  "inverter",
  "shore-power",
  "tank",
  "bilge",
  "detector",
  "switch",
  "cabin",
  "network",
  "watched-device",
  "engine-pair",
] as const;

/** Kinds of test, by their keys. */
export const TESTS = [
  "low",
  "high",
  "deviation",
  "rate-of-change",
  "reads",
  "bit-pattern",
  "discrepancy",
  "count",
  "running-time",
  "not-heard",
  "moved",
] as const;

/** One entry of `alarms`. Which keys must stand together is checked in `read-rules.ts`. */
export const ruleEntrySchema = z.strictObject({
  "tag": nameText,
  "title": sentenceText.optional(),
  "each": z.enum(EACH).optional(),
  "where": z.record(nameText, wordText, {
    error: "words of the boat file, such as { fuel: diesel }",
  })
    .optional(),
  "only": z.array(subjectText, { error: "a list of names, such as [port]" }).optional(),
  "watch": switchText.optional(),
  "low": testSchemas.low.optional(),
  "high": testSchemas.high.optional(),
  "reads": testSchemas.reads.optional(),
  "bit-pattern": testSchemas["bit-pattern"].optional(),
  "not-heard": testSchemas["not-heard"].optional(),
  "deviation": testSchemas.deviation.optional(),
  "rate-of-change": testSchemas["rate-of-change"].optional(),
  "discrepancy": testSchemas.discrepancy.optional(),
  "count": testSchemas.count.optional(),
  "running-time": testSchemas["running-time"].optional(),
  "moved": testSchemas.moved.optional(),
  "watch-while": conditionSchema.optional(),
  "suppressed-while": conditionSchema.optional(),
  "on-delay": durationText.optional(),
  "off-delay": durationText.optional(),
  "priority": z.enum(PRIORITIES).optional(),
  "latching": switchText.optional(),
  "re-alarm": lengthText.optional(),
  "alarm-when-unanswered": lengthText.optional(),
  "longest-shelving": lengthText.optional(),
  "consequence": sentenceText.optional(),
  "response": z.strictObject({
    "aboard": sentenceText.optional(),
    "ashore": sentenceText.optional(),
  }).optional(),
  "covers": z.array(nameText, { error: "a list of tags" }).optional(),
});

export type RuleEntry = z.output<typeof ruleEntrySchema>;

/** A rule file; `z.toJSONSchema(ruleFileSchema, { io: "input" })` describes what is written. */
export const ruleFileSchema = z.strictObject({
  "use": z.array(nameText, { error: "a list of packs" }).nullish(),
  "alarms": z.array(ruleEntrySchema, { error: "a list of alarms" }).nullish(),
});
