import { z } from "zod";
import type { Answer } from "../../alarms/change.ts";
import { type Micros, parseIsoTime } from "../../ground/time.ts";
import { parseDuration } from "../../units/duration.ts";
import { misread, timed } from "./command-fields.ts";

/** The commands by which a person answers one raising of an alarm. */
export const ANSWERS = [
  "acknowledge",
  "shelve",
  "unshelve",
  "reset",
  "out-of-service",
  "return-to-service",
] as const satisfies readonly Answer["kind"][];

/** What every answer says; `time` and `epoch` were judged before. */
const answering = timed.extend({
  tag: z.string().max(200),
  subject: z.string().max(200),
  /** 0: an alarm that was never raised can be put aside too. */
  occurrence: z.int().min(0),
  who: z.string().min(1).max(80),
  why: z.string().max(400).optional(),
});

/** How long an alarm is put aside: a length, or the instant at which it comes back. */
const lasting = z.object({ length: z.string().optional(), until: z.string().optional() });

export type ReadAnswer = { readonly answer: Answer } | { readonly problem: string };

/** @param wall null while the clock is not set: then a length must be given */
export function readAnswer(
  kind: Answer["kind"],
  content: unknown,
  wall: Micros | null,
): ReadAnswer {
  const read = answering.safeParse(content);
  if (!read.success) return { problem: misread(read.error) };
  const { tag, subject, occurrence, who, why } = read.data;
  const about = { tag, subject, occurrence, who, ...(why === undefined ? {} : { why }) };
  if (kind !== "shelve" && kind !== "out-of-service") return { answer: { kind, ...about } };
  const length = lengthOf(content, wall);
  return typeof length === "string" ? { problem: length } : { answer: { kind, ...about, length } };
}

/** The length, or why there is none. */
function lengthOf(content: unknown, wall: Micros | null): Micros | string {
  const read = lasting.safeParse(content);
  if (!read.success) return misread(read.error);
  const { length, until } = read.data;
  if ((length === undefined) === (until === undefined)) {
    return 'The command needs either "length", such as "2 h", or "until", a time.';
  }
  if (length !== undefined) {
    const parsed = parseDuration(length);
    return parsed.ok ? parsed.value : `Found the length "${length}", expected ${parsed.expected}.`;
  }
  const back = parseIsoTime(until ?? "");
  if (back === undefined) return `Found until "${until}", expected 2026-06-14T10:12:03Z.`;
  if (wall === null) return 'The boat\'s clock is not set; give "length" in place of "until".';
  return back > wall ? back - wall : "Its time has passed already.";
}
