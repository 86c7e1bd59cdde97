import { createHash } from "node:crypto";

/**
 * The stable key of one message: the same after a restart, different for every event and person.
 * 24 bytes of SHA-256 as 32 characters of base64url, so that it also fits where 32 are the most.
 */
export function messageKey(epoch: string, number: number, person: string): string {
  const text = JSON.stringify([epoch, number, person]);
  return createHash("sha256").update(text).digest().subarray(0, 24).toString("base64url");
}
