import { z } from "zod";
import { PLACES } from "../../nmea2000/rows/environment.ts";
import type { Subject } from "../boat.ts";
import { groupOfPlace } from "../catalogue/environment.ts";
import { subject } from "./subject.ts";
import { keyParts } from "./values.ts";

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
