import { z } from "zod";
import { lengthText, nameText } from "../../alarms/rules/rule-text.ts";
import { MOST_TRIPS } from "./trials.ts";

z.config({ jitless: true });

const A_SHARE = "a share, such as 70 %";

/** `70 %` as 0.7. */
const shareText = z.string({ error: A_SHARE }).transform((text, context) => {
  const share = Number(/^(\d+(?:\.\d+)?)\s*%$/.exec(text.trim())?.[1] ?? NaN) / 100;
  if (share <= 1) return share;
  context.addIssue({ code: "custom", message: A_SHARE });
  return z.NEVER;
});

const tags = z.array(nameText, { error: "a list of tags" });

const faultShape = {
  "told-by": tags.optional(),
  "may-ring": tags.optional(),
  "within": lengthText.optional(),
};

const faultSchema = z.strictObject(faultShape, {
  error: "who tells of it, such as { told-by: [oil-pressure-low], within: 60 s }, or {}",
});

const A_COUNT = `how many trips there are, a whole number from 1 to ${MOST_TRIPS}`;

/** `trials.yaml` */
export const trialsFileSchema = z.strictObject({
  "trips": z.int({ error: A_COUNT }).min(1, { error: A_COUNT }).max(MOST_TRIPS, { error: A_COUNT }),
  "seed": z.int({ error: "a whole number" }).nonnegative({ error: "a whole number" }).optional(),
  "with-fault": shareText.optional(),
  "aboard": z.array(nameText, { error: "a list of boxes, such as [exhaust-senders]" }).optional(),
  "faults": z.record(nameText, faultSchema, {
    error: "faults by name, such as oil-lost: { told-by: [oil-pressure-low] }",
  }),
});
