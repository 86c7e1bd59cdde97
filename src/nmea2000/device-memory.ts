import { z } from "zod";

z.config({ jitless: true });

const text = z.string().nullable();
const number = z.number().nullable();
const pgns = z.array(z.int().min(0).max(0x3ffff)).nullable();

/**
 * A device as plain JSON, to be known again by a listener that comes too late to hear it claim its
 * address. What it says every minute (its heartbeat) is not kept.
 */
export const rememberedDeviceSchema = z.strictObject({
  /** Name of the bus: its number may be another next time. */
  bus: z.string(),
  name: z.string().regex(/^[0-9a-f]{16}$/),
  address: z.int().min(0).max(253).nullable(),
  product: z.strictObject({
    networkVersion: number,
    productCode: number,
    model: text,
    softwareVersion: text,
    modelVersion: text,
    serial: text,
    certificationLevel: number,
    loadEquivalency: number,
  }).nullable(),
  configuration: z.strictObject({
    installation1: text,
    installation2: text,
    manufacturerInformation: text,
  }).nullable(),
  transmits: pgns,
  receives: pgns,
});

export type RememberedDevice = z.infer<typeof rememberedDeviceSchema>;

/** What `DeviceList.memory()` gives, for whoever reads it back from a file. */
export const deviceMemorySchema = z.array(rememberedDeviceSchema);
