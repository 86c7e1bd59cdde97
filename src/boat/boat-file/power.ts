import { z } from "zod";
import { quantityText } from "../../units/quantity-text.ts";
import type { Subject } from "../boat.ts";
import { subject } from "./subject.ts";
import { keyParts, nameText } from "./values.ts";

/** Batteries, chargers, inverters and the shore connection. */
export const batterySchema = z.strictObject({
  ...keyParts,
  "chemistry": z.enum(["flooded", "agm", "gel", "lifepo4"]).optional(),
  "nominal": quantityText("voltage", { over: 0, words: "a voltage above nothing" }).optional(),
  "capacity": quantityText("charge", { over: 0, words: "a charge above nothing" }).optional(),
});

export function batterySubject(name: string, battery: z.output<typeof batterySchema>): Subject {
  const { instance, bus, device, chemistry, nominal, capacity } = battery;
  return subject("battery", name, {
    keys: [{ quantity: "self", instance, bus, device }],
    words: { chemistry },
    numbers: { nominal, capacity },
  });
}

export const chargerSchema = z.strictObject({
  ...keyParts,
  "charges": nameText.optional(),
  "powered-by": z.enum(["shore", "generator", "engine", "solar", "wind"]).optional(),
});

export function chargerSubject(name: string, charger: z.output<typeof chargerSchema>): Subject {
  const { instance, bus, device, charges } = charger;
  return subject("charger", name, {
    keys: [{ quantity: "self", instance, bus, device }],
    words: { "powered-by": charger["powered-by"] },
    relations: { battery: charges },
  });
}

export const inverterSchema = z.strictObject({ ...keyParts, "battery": nameText.optional() });

export function inverterSubject(name: string, inverter: z.output<typeof inverterSchema>): Subject {
  const { instance, bus, device, battery } = inverter;
  return subject("inverter", name, {
    keys: [{ quantity: "self", instance, bus, device }],
    relations: { battery },
  });
}

export const shorePowerSchema = z.strictObject(keyParts);

export function shorePowerSubject(name: string, shore: z.output<typeof shorePowerSchema>): Subject {
  const { instance, bus, device } = shore;
  return subject("shore-power", name, { keys: [{ quantity: "self", instance, bus, device }] });
}
