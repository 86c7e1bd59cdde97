import { z } from "zod";
import type { Micros } from "../../../ground/time.ts";
import { alarmChangeSchema } from "../../../store/event-text.ts";
import type { Document } from "../../../store/store.ts";
import type { Raising } from "./raising.ts";
import type { Telling } from "./telling.ts";

z.config({ jitless: true });

/** A length of time that is left, or gone; null for ever. Never an instant: the clock may be new. */
const length = z.number().nullable();

const told = z.enum(["on-its-way", "accepted", "failed"]);

const raising = z.object({
  id: z.string(),
  number: z.int(),
  change: alarmChangeSchema,
  over: alarmChangeSchema.nullable(),
  answeredBy: z.string().nullable(),
  told: z.record(z.string(), told),
  step: z.int().min(0),
  isAgain: z.boolean(),
  left: length,
});

const inbox = z.object({
  waiting: z.array(z.object({
    raising: z.string(),
    kind: z.enum(["raised", "again", "passed-on", "over"]),
    after: z.string(),
  })),
  left: length,
  told: z.array(z.number()),
  isFlooded: z.boolean(),
});

/** Who was told of what and who waits for what, as it is kept over a restart. */
export const tellingMemorySchema = z.object({
  raisings: z.array(raising),
  inboxes: z.record(z.string(), inbox),
});
export type TellingMemory = z.infer<typeof tellingMemorySchema>;

const KEY = "telling";

/** The memory as the store keeps it. */
export function tellingDocument(telling: Telling, now: Micros): Document {
  return { kind: "fact", key: KEY, text: JSON.stringify(memoryOf(telling, now)) };
}

/** Goes on with what was kept; what cannot be read is left out. */
export function readTelling(
  telling: Telling,
  facts: ReadonlyMap<string, string>,
  now: Micros,
): void {
  try {
    const memory = tellingMemorySchema.safeParse(JSON.parse(facts.get(KEY) ?? "null")).data;
    if (memory !== undefined) remember(telling, memory, now);
  } catch { /* no JSON: begins anew */ }
}

/** @param now steady time */
export function memoryOf(telling: Telling, now: Micros): TellingMemory {
  return {
    raisings: [...telling.raisings.values()].map((one) => ({
      id: one.id,
      number: one.number,
      change: one.change,
      over: one.over ?? null,
      answeredBy: one.answeredBy,
      told: Object.fromEntries(one.told),
      step: one.step,
      isAgain: one.isAgain,
      left: lengthTo(one.due, now),
    })),
    inboxes: Object.fromEntries(
      [...telling.inboxes].map(([person, { waiting, due, told, isFlooded }]) => [person, {
        waiting,
        left: lengthTo(due, now),
        told: told.map((time) => now - time),
        isFlooded,
      }]),
    ),
  };
}

/** Goes on where an earlier run was; people who are gone since are left out. */
export function remember(telling: Telling, memory: TellingMemory, now: Micros): void {
  for (const { left, over, told, ...one } of memory.raisings) {
    const raising: Raising = {
      ...one,
      over: over ?? undefined,
      isUnsaved: false,
      told: new Map(Object.entries(told).filter(([person]) => telling.inboxes.has(person))),
      due: left === null ? Infinity : now + left,
    };
    telling.raisings.set(raising.id, raising);
  }
  for (const [person, { waiting, left, told, isFlooded }] of Object.entries(memory.inboxes)) {
    const inbox = telling.inboxes.get(person);
    if (inbox === undefined) continue;
    inbox.waiting = waiting;
    inbox.due = left === null ? Infinity : now + left;
    inbox.told = told.map((ago) => now - ago);
    inbox.isFlooded = isFlooded;
  }
}

function lengthTo(due: Micros, now: Micros): Micros | null {
  return due === Infinity ? null : Math.max(0, due - now);
}
