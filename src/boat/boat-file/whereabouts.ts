import { z } from "zod";
import { nearestName } from "../../ground/spelling.ts";
import { quantityText } from "../../units/quantity-text.ts";
import type { Boat } from "../boat.ts";
import { nameText } from "./values.ts";

/** The circle in which the boat lies when she is left. */
export const mooringSchema = z.strictObject({
  "latitude": quantityText("angle", {
    from: -90,
    to: 90,
    words: "a latitude from -90° to 90°, south negative",
  }),
  "longitude": quantityText("angle", {
    from: -180,
    to: 180,
    words: "a longitude from -180° to 180°, west negative",
  }),
  "radius": quantityText("length", { over: 0, words: "a length above nothing" }),
});

/** Which device's position counts, and which may stand in for it. */
export const positionSchema = z.strictObject({
  "from": nameText,
  "stand-in": nameText.optional(),
});

export function positionFrom(
  position: z.output<typeof positionSchema> | null | undefined,
): Pick<Boat, "position"> {
  if (position === null || position === undefined) return {};
  const { from, "stand-in": standIn } = position;
  return { position: standIn === undefined ? { from } : { from, standIn } };
}

/** An IANA time zone. */
export const timeZoneText = z.string({ error: "a time zone, such as Europe/London" })
  .superRefine((text, context) => {
    if (isTimeZone(text)) return;
    context.addIssue({
      code: "custom",
      message: "a time zone, such as Europe/London",
      params: { nearest: nearestName(text, Intl.supportedValuesOf("timeZone")) },
    });
  });

function isTimeZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat("en", { timeZone: text }).resolvedOptions().timeZone !== "";
  } catch {
    return false;
  }
}
