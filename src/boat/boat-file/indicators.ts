import { z } from "zod";
import { switchWord } from "../../ground/switch-word.ts";
import { SECOND } from "../../ground/time.ts";
import { rangeText } from "../../units/quantity-text.ts";
import type { Key, Subject } from "../boat.ts";
import { subject } from "./subject.ts";
import { keyParts, nameText, numberUpTo } from "./values.ts";

/** What reads one indicator of a switch bank: bilge pumps and floats, detectors, switches. */
const indicatorSchema = z.strictObject({
  ...keyParts,
  /** A bank has 28 indicators (PGN 127501). */
  "indicator": numberUpTo(28, 1),
  "inverted": switchWord.optional(),
});

type Indicator = z.output<typeof indicatorSchema>;

function indicatorKey(quantity: string, from: Indicator): Key {
  const { instance, indicator, inverted, bus, device } = from;
  return { quantity, instance, indicator, inverted, bus, device };
}

/** A pump, and how much the battery that feeds it must give when it goes on. */
const pumpSchema = z.strictObject({
  ...indicatorSchema.shape,
  "battery": nameText.optional(),
  "step": rangeText("current", "3..8 A").optional(),
}).refine((pump) => (pump.battery === undefined) === (pump.step === undefined), {
  error: "battery and step together",
});

export const bilgeSchema = z.strictObject({
  "pump": pumpSchema.optional(),
  "float": indicatorSchema.optional(),
  /** A pump that only its float switches, seen as steps of a battery's current. */
  "inferred": z.strictObject({
    "battery": nameText,
    "step": rangeText("current", "3..8 A"),
    "lasting": rangeText("time", "4..120 s"),
  }).optional(),
}).refine(({ pump, inferred }) => pump === undefined || inferred === undefined, {
  error: "either a pump that the switch bank reports, or one that is inferred",
  path: ["inferred"],
});

export function bilgeSubject(name: string, bilge: z.output<typeof bilgeSchema>): Subject {
  const { pump, float, inferred } = bilge;
  const described = subject("bilge", name, {
    keys: [
      ...(pump === undefined ? [] : [indicatorKey("pump", pump)]),
      ...(float === undefined ? [] : [indicatorKey("float", float)]),
    ],
    relations: { battery: inferred?.battery ?? pump?.battery },
  });
  const drawn = pump?.step;
  if (drawn !== undefined) {
    return { ...described, drawnStep: { from: drawn.low, to: drawn.high } };
  }
  if (inferred === undefined) return described;
  const { step, lasting } = inferred;
  return {
    ...described,
    inferred: {
      step: { from: step.low, to: step.high },
      lasting: { from: lasting.low * SECOND, to: lasting.high * SECOND },
    },
  };
}

export const switchSchema = indicatorSchema;

export function switchSubject(name: string, from: Indicator): Subject {
  return subject("switch", name, { keys: [indicatorKey("state", from)] });
}

export const detectorSchema = z.strictObject({
  ...indicatorSchema.shape,
  "senses": z.enum(["petrol-vapour", "gas", "carbon-monoxide", "smoke", "heat", "hydrogen"])
    .optional(),
  /** The contact by which it says that it is out of order itself. */
  "fault-contact": indicatorSchema.optional(),
});

export function detectorSubject(name: string, from: z.output<typeof detectorSchema>): Subject {
  const fault = from["fault-contact"];
  return subject("detector", name, {
    keys: [
      indicatorKey("alarm", from),
      ...(fault === undefined ? [] : [indicatorKey("fault-contact", fault)]),
    ],
    words: { senses: from.senses },
  });
}
