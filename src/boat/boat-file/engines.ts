import { z } from "zod";
import { quantityText } from "../../units/quantity-text.ts";
import type { Key, Subject } from "../boat.ts";
import { TIED_TEMPERATURES } from "../catalogue/environment.ts";
import { subject } from "./subject.ts";
import { instance, keyParts, nameText, numberUpTo } from "./values.ts";

const tieSchema = z.strictObject({ "temperature-instance": instance }).optional();

/** An engine, or the engine of a generator. */
export const engineSchema = z.strictObject({
  ...keyParts,
  /** J1939 has no instance; 254 and 255 are no sender's address (SAE J1939-81). */
  "address": numberUpTo(253).optional(),
  "fuel": z.enum(["diesel", "petrol"]).optional(),
  "cooling": z.enum(["closed", "raw-water"]).optional(),
  "rated-speed": quantityText("rotation", { over: 0, words: "a speed above nothing" }).optional(),
  "battery": nameText.optional(),
  /** The battery that turns its starter, where that is not the one that it charges. */
  "starts-from": nameText.optional(),
  "exhaust": tieSchema,
  "shaft-seal": tieSchema,
  "engine-room": tieSchema,
}).refine((engine) => engine.instance === undefined || engine.address === undefined, {
  error: "either an instance (NMEA 2000) or an address (J1939), not both",
  path: ["address"],
});

type Engine = z.output<typeof engineSchema>;

export function engineSubject(name: string, engine: Engine): Subject {
  return engineOf("engine", name, engine);
}

export function generatorSubject(name: string, engine: Engine): Subject {
  return engineOf("generator", name, engine);
}

function engineOf(group: string, name: string, engine: Engine): Subject {
  const startsFrom = engine["starts-from"];
  const described = subject(group, name, partsOf(engine));
  return startsFrom === undefined ? described : { ...described, startsFrom };
}

function partsOf(engine: Engine) {
  const { instance, address, bus, device } = engine;
  const keys: Key[] = [{ quantity: "self", instance, address, bus, device }];
  for (const part of ["exhaust", "shaft-seal", "engine-room"] as const) {
    const tie = engine[part];
    if (tie !== undefined) {
      keys.push({ ...TIED_TEMPERATURES[part], instance: tie["temperature-instance"] });
    }
  }
  return {
    keys,
    words: { fuel: engine.fuel, cooling: engine.cooling },
    numbers: { "rated-speed": engine["rated-speed"] },
    relations: { battery: engine.battery },
  };
}
