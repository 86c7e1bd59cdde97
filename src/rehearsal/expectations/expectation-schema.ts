import { z } from "zod";
import { readAmount } from "../../alarms/rules/rule-amounts.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import { nameText, signalText, switchText } from "../../alarms/rules/rule-text.ts";
import { alarmSubjectText } from "../alarm-subject-text.ts";
import { type ExpectedTime, parseExpectedTime, TIME_FORMS } from "./expected-time.ts";

z.config({ jitless: true });

const timeText = z.string({ error: TIME_FORMS }).transform((text, context): ExpectedTime => {
  const time = parseExpectedTime(text);
  if (time !== undefined) return time;
  context.addIssue({ code: "custom", message: TIME_FORMS });
  return z.NEVER;
});

const A_WINDOW = "a window of two times, such as [0:14:00, 0:15:30]";

const windowSchema = z.array(timeText, { error: A_WINDOW })
  .refine((times) => times.length === 2, { error: A_WINDOW })
  .transform(([from, to]) => ({ from, to }));

/** What a mark waits for, without its signal. */
export type MarkTest =
  & { readonly words: string }
  & (
    | { readonly kind: "over" | "under"; readonly limit: AmountRead }
    | { readonly kind: "reads"; readonly word: string }
  );

type AmountRead = Extract<ReturnType<typeof readAmount>, { ok: true }>["value"];

const A_FIRST = "what happens first, such as over 500 rpm, under 10 psi or reads fault";

const firstText = z.string({ error: A_FIRST }).transform((text, context): MarkTest => {
  const [, kind, rest] = /^(over|under|reads)\s+(\S.*)$/.exec(text.trim()) ?? [];
  if (kind === "reads") return { kind, word: rest, words: text };
  if (kind === "over" || kind === "under") {
    const read = readAmount(/^-?[\d.]+$/.test(rest) ? Number(rest) : rest);
    if (read.ok) return { kind, limit: read.value, words: text };
    context.addIssue({ code: "custom", message: `${kind} ${read.expected}` });
    return z.NEVER;
  }
  context.addIssue({ code: "custom", message: A_FIRST });
  return z.NEVER;
});

const markShape = { signal: signalText, first: firstText };

const lineShape = {
  alarm: nameText,
  subject: alarmSubjectText.optional(),
  raised: windowSchema,
  returned: windowSchema.optional(),
};

/** The parts that expectations of recordings and of synthetic cases share. */
export const expectationShape = {
  "marks": z.record(nameText, z.strictObject(markShape), {
    error: "marks by name, such as started: { signal: engine/port/speed, first: over 500 rpm }",
  }).optional(),
  "expect": z.array(z.strictObject(lineShape), { error: "a list of alarms that must come" })
    .optional(),
  "never": z.array(nameText, { error: "a list of tags" }).optional(),
  "anything-else": switchText.optional(),
};

export const expectationFileSchema = z.strictObject(expectationShape);

export type WrittenMark = z.output<z.ZodObject<typeof markShape>>;
export type WrittenLine = z.output<z.ZodObject<typeof lineShape>>;

/** What was written well enough to be looked at further, each with its place in the file. */
export interface WrittenExpectations {
  readonly marks: readonly (readonly [name: string, mark: WrittenMark])[];
  readonly lines: readonly (readonly [at: number, line: WrittenLine])[];
  readonly never: readonly (readonly [at: number, tag: string])[];
  readonly anythingElse: boolean;
}

/** The sound parts of a document, so that one slip does not hide another. */
export function soundExpectations(value: unknown): WrittenExpectations {
  const whole = partsSchema.safeParse(value);
  const parts: z.output<typeof partsSchema> = whole.success ? whole.data : {};
  return {
    marks: Object.entries(parts.marks ?? {}).flatMap(([name, mark]) =>
      sound(looseMark, name, mark)
    ),
    lines: (parts.expect ?? []).flatMap((line, at) => sound(looseLine, at, line)),
    never: (parts.never ?? []).flatMap((tag, at) => sound(nameText, at, tag)),
    anythingElse: parts["anything-else"] ?? false,
  };
}

const looseMark = z.object(markShape);
const looseLine = z.object(lineShape);
const partsSchema = z.object({
  "marks": z.record(z.string(), z.unknown()).optional().catch(undefined),
  "expect": z.array(z.unknown()).optional().catch(undefined),
  "never": z.array(z.unknown()).optional().catch(undefined),
  "anything-else": switchText.optional().catch(undefined),
});

function sound<At, T>(schema: z.ZodType<T>, at: At, value: unknown): [At, T][] {
  const read = schema.safeParse(value);
  return read.success ? [[at, read.data]] : [];
}

/** The test of the rule that finds a mark. */
export function testOfMark(signal: string, first: MarkTest): Rule["test"] {
  const reference = { name: signal, of: null };
  if (first.kind === "reads") return { kind: "reads", signal: reference, oneOf: [first.word] };
  return {
    kind: first.kind === "over" ? "high" : "low",
    signal: reference,
    setpoint: { kind: "fixed", amount: first.limit },
    deadband: { kind: "share", percent: 0 },
  };
}
