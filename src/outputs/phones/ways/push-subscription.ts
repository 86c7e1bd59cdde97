import { Buffer } from "node:buffer";
import { z } from "zod";

z.config({ jitless: true });

/** An uncompressed point of P-256: 4, then x and y (RFC 8291, section 3.2). */
const publicKey = z.string().refine((text) => {
  const bytes = bytesOf(text);
  return bytes.length === 65 && bytes[0] === 4;
}, { error: "a public key of P-256" });

const authentication = z.string().refine((text) => bytesOf(text).length === 16, {
  error: "a secret of 16 bytes",
});

/**
 * How one browser is reached, as its `PushSubscription` says it: the address of its push service,
 * and keys that only this browser can read with.
 */
export const pushSubscriptionSchema = z.object({
  endpoint: z.url({ protocol: /^https$/ }).max(2_000),
  /** Milliseconds since the epoch; null for no end that is known. */
  expirationTime: z.number().nullable().default(null),
  keys: z.object({ p256dh: publicKey, auth: authentication }),
});
export type PushSubscription = z.infer<typeof pushSubscriptionSchema>;

/** A subscription and whose it is, as it is kept over a restart. */
export const keptSubscriptionSchema = z.object({
  person: z.string(),
  subscription: pushSubscriptionSchema,
});
export type KeptSubscription = z.infer<typeof keptSubscriptionSchema>;

function bytesOf(text: string): Uint8Array {
  return Buffer.from(text, "base64url");
}
