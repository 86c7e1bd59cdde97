import { z } from "zod";
import type { Subject } from "../boat.ts";
import { groupOfPlace } from "../catalogue/environment.ts";
import { subject } from "./subject.ts";
import { keyParts } from "./values.ts";

/** Words of the source in PGN 130312, from memory. */
export const PLACES = [
  "sea",
  "outside",
  "inside",
  "engine-room",
  "main-cabin",
  "live-well",
  "bait-well",
  "refrigeration",
  "heating-system",
  "dew-point",
  "apparent-wind-chill",
  "theoretical-wind-chill",
  "heat-index",
  "freezer",
  "exhaust-gas",
  "shaft-seal",
] as const;

export const temperatureSchema = z.strictObject({ ...keyParts, "place": z.enum(PLACES) });

export function temperatureSubject(
  name: string,
  temperature: z.output<typeof temperatureSchema>,
): Subject {
  const { place, instance, bus, device } = temperature;
  return subject(groupOfPlace(place), name, {
    keys: [{ quantity: "self", place, instance, bus, device }],
  });
}
