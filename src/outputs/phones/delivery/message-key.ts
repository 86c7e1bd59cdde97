import { createHash } from "node:crypto";

/**
 * The stable key of one message: the same after a restart, different for everything that is told and
 * for every person. 24 bytes of SHA-256 as 32 characters of base64url, so that it also fits where 32
 * are the most.
 * @param what what is told, such as the numbers of its events
 */
export function messageKey(epoch: string, what: string, person: string): string {
  const text = JSON.stringify([epoch, what, person]);
  return createHash("sha256").update(text).digest().subarray(0, 24).toString("base64url");
}
