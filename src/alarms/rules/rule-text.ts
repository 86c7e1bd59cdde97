import { z } from "zod";
import { parseDuration } from "../../units/duration.ts";
import type { SignalReference } from "./rule-parts.ts";
import { type Read, readAmount, readDifference, readLimit } from "./rule-amounts.ts";

// The words and numbers of a rule file. Each schema takes what a person writes and gives what the
// rules work with. An `error` text ends a sentence that begins with "expected".

/** Lower case, digits and hyphens, as a topic needs them. */
export const nameText = z.string({ error: "a name in lower case, such as oil-pressure-low" })
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, {
    error: "a name in lower case with hyphens, such as oil-pressure-low",
  });

/** A number that a device sends is a name as well, and YAML reads it as a number. */
const numberAsName = z.int().min(0).transform(String);

/** What a thing of the boat is called: by the owner, or else by its number. */
export const subjectText = z.union([nameText, numberAsName], {
  error: "a name in lower case, such as port, or a number",
});

export const signalText = z.string({ error: "the name of a signal, such as oil-pressure" })
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*(\/[a-z0-9]+(-[a-z0-9]+)*)*$/, {
    error: "the name of a signal, such as oil-pressure or engine/port/speed",
  });

/** The signal of a switch is called by its number alone. */
export const signalOrNumberText = z.union([signalText, numberAsName], {
  error: "the name of a signal, such as oil-pressure",
});

/** The keys of a signal; `reference` makes one of them. */
export const signalKeys = { "signal": signalOrNumberText, "of": nameText.optional() };

export function reference(name: string, of: string | undefined): SignalReference {
  return { name, of: of ?? null };
}

export const sentenceText = z.string({ error: "a sentence" }).min(1, { error: "a sentence" });

export const durationText = z.string({ error: "a time, such as 3 s or 10 min" })
  .transform((text, context) => taken(parseDuration(text), context));

/** A time that is not nothing. */
export const lengthText = durationText.refine((length) => length > 0, {
  error: "a time above nothing",
});

const CLOCK = "a time of the day, such as 22:00";

/** `22:00` as minutes after midnight. */
export const clockText = z.string({ error: CLOCK })
  .regex(/^([01]?\d|2[0-3]):[0-5]\d$/, { error: CLOCK })
  .transform((text) => {
    const [hours, minutes] = text.split(":").map(Number);
    return hours * 60 + minutes;
  });

const number = (error: string) => z.union([z.number(), z.string()], { error });

/** `10 psi`, or a plain number for counts and bits. */
export const amountText = number("a number with its unit, such as 10 psi")
  .transform((written, context) => taken(readAmount(written), context));

/** `10 psi`, `103 % of rated-speed` or `12.2 V per 12 V`. */
export const limitText = number("a number with its unit, such as 10 psi")
  .transform((written, context) => taken(readLimit(written), context));

/** A switch or a word, else a number. */
export const equalsText = z.union([z.boolean(), z.number(), z.string()], {
  error: "a word or a number with its unit",
}).transform((written) => {
  if (typeof written === "boolean") return written ? "on" : "off";
  const read = readAmount(written);
  return read.ok ? read.value : String(written);
});

/** `2 psi`, `5 °F`, `5 %` or `0.1 V per 12 V`. */
export const differenceText = number("a difference with its unit, such as 2 psi, or a percentage")
  .transform((written, context) => taken(readDifference(written), context));

export const NO_DIFFERENCE = { kind: "share", percent: 0 } as const;

/** A switch: on, off, yes, no, true and false mean the same everywhere. */
export const switchText = z.union([z.boolean(), z.enum(["on", "off", "yes", "no"])], {
  error: "on or off",
}).transform((written) => written === true || written === "on" || written === "yes");

/** A word that a signal reads; YAML's own true and false are the words on and off. */
export const wordText = z.union([z.boolean(), z.string()], { error: "a word" })
  .transform((written) => typeof written === "string" ? written : written ? "on" : "off");

/** The value that was read; otherwise an issue with what was expected. */
export function taken<T>(read: Read<T>, context: z.RefinementCtx<unknown>): T {
  if (read.ok) return read.value;
  context.addIssue({ code: "custom", message: read.expected, params: { nearest: read.nearest } });
  return z.NEVER;
}
