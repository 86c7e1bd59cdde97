import { Buffer } from "node:buffer";
import { createECDH } from "node:crypto";

/**
 * How push services know the boat again (RFC 8292): a pair of keys on P-256, as base64url. A browser
 * subscribes to the public one.
 */
export interface VapidKeys {
  /** An uncompressed point, 65 bytes. */
  readonly publicKey: string;
  readonly privateKey: string;
}

export const VAPID_KEY_BYTES = 32;

/** A new private key. */
export function makeVapidKey(): Uint8Array {
  const pair = createECDH("prime256v1");
  pair.generateKeys();
  const key = new Uint8Array(VAPID_KEY_BYTES);
  const made = pair.getPrivateKey();
  key.set(made, VAPID_KEY_BYTES - made.length);
  return key;
}

/** @throws {Error} where these bytes are no private key of P-256 */
export function vapidKeys(privateKey: Uint8Array): VapidKeys {
  const pair = createECDH("prime256v1");
  pair.setPrivateKey(privateKey);
  return {
    publicKey: pair.getPublicKey("base64url"),
    privateKey: Buffer.from(privateKey).toString("base64url"),
  };
}
