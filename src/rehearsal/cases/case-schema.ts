import { z } from "zod";
import { durationText, signalText } from "../../alarms/rules/rule-text.ts";
import { expectationShape } from "../expectations/expectation-schema.ts";

z.config({ jitless: true });

const A_STEP =
  "a step, such as { at: 0 s, value: 700 rpm } or { at: 30 s, ramp: 1500 rpm, lasting: 10 s }";

const written = z.union([z.boolean(), z.number(), z.string()], {
  error: "a number with its unit, or a word",
});

const stepShape = {
  at: durationText,
  value: written.optional(),
  ramp: written.optional(),
  lasting: durationText.optional(),
  gap: durationText.optional(),
  noise: written.optional(),
  seed: z.int({ error: "a whole number" }).optional(),
};

const stepSchema = z.strictObject(stepShape, { error: A_STEP });

export const caseFileSchema = z.strictObject({
  signals: z.record(signalText, z.array(stepSchema, { error: "a list of steps" }), {
    error: "signals by name, each with its steps",
  }),
  lasting: durationText.optional(),
  ...expectationShape,
});

export type WrittenStep = z.output<z.ZodObject<typeof stepShape>>;
/** As a person wrote a value. */
export type Written = z.output<typeof written>;

/** The sound steps of each signal with their places, so that one slip does not hide another. */
export function soundSignals(
  value: unknown,
): (readonly [name: string, steps: readonly (readonly [at: number, step: WrittenStep])[]])[] {
  const parts = partsSchema.safeParse(value);
  if (!parts.success) return [];
  return Object.entries(parts.data.signals).filter(([name]) => signalText.safeParse(name).success)
    .map(([name, steps]) =>
      [
        name,
        steps.flatMap((step, at) => {
          const read = looseStep.safeParse(step);
          return read.success ? [[at, read.data] as const] : [];
        }),
      ] as const
    );
}

/** How long the file says that it goes on; undefined where it does not say so. */
export function saidLength(value: unknown): number | undefined {
  const parts = z.object({ lasting: durationText }).safeParse(value);
  return parts.success ? parts.data.lasting : undefined;
}

const looseStep = z.object(stepShape);
const partsSchema = z.object({ signals: z.record(z.string(), z.array(z.unknown()).catch([])) });
