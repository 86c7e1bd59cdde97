import { z } from "zod";
import { quantityText } from "../../units/quantity-text.ts";
import type { Subject } from "../boat.ts";
import { subject } from "./subject.ts";
import { keyParts, numberUpTo } from "./values.ts";

/** Words of the fluid in PGN 127505; a test holds them against the row. */
export const FLUIDS = [
  "fuel",
  "water",
  "gray-water",
  "live-well",
  "oil",
  "black-water",
  "fuel-gasoline",
] as const;

export const tankSchema = z.strictObject({
  ...keyParts,
  /** Four bits on the wire, and 15 means "not available". */
  "instance": numberUpTo(14).optional(),
  "fluid": z.enum(FLUIDS),
  "capacity": quantityText("volume", { over: 0, words: "a volume above nothing" }).optional(),
});

export function tankSubject(name: string, tank: z.output<typeof tankSchema>): Subject {
  const { fluid, instance, bus, device, capacity } = tank;
  return subject("tank", name, {
    keys: [{ quantity: "self", fluid, instance, bus, device }],
    words: { fluid },
    numbers: { capacity },
  });
}
