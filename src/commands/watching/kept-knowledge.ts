import { z } from "zod";
import { BUILT, type Clock, isCredible } from "../../ground/clock.ts";
import { type Micros, MINUTE } from "../../ground/time.ts";
import type { BoatStateRecord } from "../../boat/boat-state.ts";
import type { BusNames } from "../../bus/bus-names.ts";
import { deviceMemorySchema, type RememberedDevice } from "../../nmea2000/device-memory.ts";
import type { Document, Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import { memoryDocument } from "./alarm-memory.ts";
import { BOAT_STATE, boatStateSchema } from "./boat-state-document.ts";
import type { Outlet } from "./gateway.ts";

/** What a run learns beside its alarms, and what the next one begins with. */
export interface Knowledge {
  readonly rememberedDevices: readonly RememberedDevice[];
  /** No time that the bus tells may lie before this. */
  readonly clockNotBefore: Micros;
  /** Undefined where nobody has ever set it. */
  readonly boatState: BoatStateRecord | undefined;
}

const DEVICES = "devices";
const SAVED_AT = "saved-at";
const EVERY: Micros = MINUTE;

/** What cannot be read is left out: it is learned again. */
export async function readKnowledge(store: Store): Promise<Knowledge> {
  const facts = await store.documents("fact");
  const devices = parsed(facts.get(DEVICES), deviceMemorySchema) ?? [];
  const savedAt = parsed(facts.get(SAVED_AT), z.int().min(0)) ?? 0;
  const boatState = parsed(facts.get(BOAT_STATE), boatStateSchema);
  return { rememberedDevices: devices, clockNotBefore: Math.max(BUILT, savedAt), boatState };
}

/**
 * Keeps the devices, the time and what is left of running delays once a minute and at the end, so
 * that a power cut takes no more than a minute of them.
 */
export function keepKnowledge(
  { watch, buses, store, clock }: {
    readonly watch: Watch;
    readonly buses: BusNames;
    readonly store: Store;
    readonly clock: Clock;
  },
): Outlet {
  let due = clock.steady() + EVERY;
  const documents = (): Document[] => {
    const now = watch.timeline.now;
    const devices = JSON.stringify(watch.devices.memory(buses));
    const wall = clock.wall();
    return [
      ...watch.alarms.memory(now).map(memoryDocument),
      { kind: "fact", key: DEVICES, text: devices },
      ...isCredible(wall) ? [{ kind: "fact", key: SAVED_AT, text: String(wall) } as const] : [],
    ];
  };
  return {
    turn() {
      // No memory of a change is kept before the change: the next turn is soon.
      if (clock.steady() < due || watch.hasChanges) return;
      due = clock.steady() + EVERY;
      // The store tells of its own trouble.
      store.commit({ documents: documents() }).saved.catch(() => {});
    },
    stop() {
      store.commit({ documents: documents() }).saved.catch(() => {});
      return Promise.resolve();
    },
  };
}

function parsed<T>(text: string | undefined, schema: z.ZodType<T>): T | undefined {
  if (text === undefined) return undefined;
  try {
    return schema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}
