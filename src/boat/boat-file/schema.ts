import { z } from "zod";
import { engineSchema } from "./engines.ts";
import { bilgeSchema, detectorSchema, switchSchema } from "./indicators.ts";
import { deviceSchema, networkSchema } from "./networks.ts";
import { ownersUnitsSchema } from "./owners-units.ts";
import { batterySchema, chargerSchema, inverterSchema, shorePowerSchema } from "./power.ts";
import { tankSchema } from "./tanks.ts";
import { temperatureSchema } from "./temperatures.ts";
import { nameText } from "./values.ts";
import { mooringSchema, positionSchema, timeZoneText } from "./whereabouts.ts";

z.config({ jitless: true });

/** Named things of one sort; a section without any may be left empty. */
function named<T extends z.ZodType>(entry: T) {
  return z.record(nameText, entry, { error: "names, each with a group of keys" }).nullish();
}

/** The whole boat file (contract §2), every part optional. */
export const boatFileSchema = z.strictObject({
  "boat": nameText.nullish(),
  "units": ownersUnitsSchema.nullish(),
  "time-zone": timeZoneText.nullish(),
  "networks": named(networkSchema),
  "engines": named(engineSchema),
  "generators": named(engineSchema),
  "batteries": named(batterySchema),
  "chargers": named(chargerSchema),
  "tanks": named(tankSchema),
  "bilges": named(bilgeSchema),
  "inverters": named(inverterSchema),
  "shore-power": named(shorePowerSchema),
  "switches": named(switchSchema),
  "detectors": named(detectorSchema),
  "temperatures": named(temperatureSchema),
  "mooring": mooringSchema.nullish(),
  "position": positionSchema.nullish(),
  "devices": named(deviceSchema),
}, { error: "a boat file, such as engines: { port: { instance: 0 } }" });

/** What the schema makes of a boat file: amounts in signal units, switches as true and false. */
export type BoatFile = z.output<typeof boatFileSchema>;
