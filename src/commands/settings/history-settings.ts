import { z } from "zod";
import { DAY, MINUTE } from "../../ground/time.ts";
import { type HistoryPlan, LENGTHS, USUAL_PLAN } from "../../store/history-plan.ts";
import { parseDuration } from "../../units/duration.ts";

z.config({ jitless: true });

// What an owner may write under `history:` and what it becomes. An `error` text ends "expected …".

const EVERY = `one of ${LENGTHS.join(", ")} min: they divide an hour`;
const every = z.string({ error: EVERY }).transform((written, context) => {
  const read = parseDuration(written);
  const minutes = read.ok ? read.value / MINUTE : NaN;
  if (LENGTHS.includes(minutes)) return minutes;
  context.addIssue({ code: "custom", message: EVERY });
  return z.NEVER;
});

const KEEP = "a length of time, such as 90 d";
const keep = z.string({ error: KEEP }).transform((written, context) => {
  const read = parseDuration(written);
  if (read.ok && read.value >= DAY) return read.value;
  context.addIssue({ code: "custom", message: `${KEEP}; at least a day` });
  return z.NEVER;
});

const NAME = "the name of a signal, such as battery/house/voltage or battery/*/voltage";
const name = z.string({ error: NAME })
  .regex(/^(\*|[a-z0-9.-]+)(\/(\*|[a-z0-9.-]+))*$/, { error: NAME });

const listed = z.union([
  name.transform((signal) => ({ signal, every: undefined })),
  z.strictObject({ "signal": name, "every": every.optional() }),
], { error: `${NAME}, or { signal: NAME, every: 5 min }` });

export const historySchema = z.strictObject({
  "every": every.optional(),
  "keep": keep.optional(),
  "signals": z.array(listed, { error: "a list of signals" }).optional(),
}, { error: "what is kept, such as { every: 5 min, signals: [tank/*/level] }" })
  .transform(({ every = USUAL_PLAN.every, keep = USUAL_PLAN.kept, signals = [] }): HistoryPlan => ({
    ...USUAL_PLAN,
    kept: keep,
    every,
    listed: signals.map((one) => ({ name: one.signal, every: one.every ?? every })),
  }));
