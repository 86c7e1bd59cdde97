import { Buffer } from "node:buffer";
import { expect, test } from "vitest";
import { makeVapidKey, VAPID_KEY_BYTES, vapidKeys } from "./vapid-keys.ts";

// RFC 8291, appendix A: the sender's pair.
test("the public key follows from the private one", () => {
  const privateKey = "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw";
  expect(vapidKeys(Buffer.from(privateKey, "base64url"))).toEqual({
    privateKey,
    publicKey:
      "BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8",
  });
});

test("every new key is another, and whole", () => {
  const [one, other] = [makeVapidKey(), makeVapidKey()];
  expect(one).toHaveLength(VAPID_KEY_BYTES);
  expect(vapidKeys(one)).not.toEqual(vapidKeys(other));
});

test("bytes that are no key are refused", () => {
  expect(() => vapidKeys(new Uint8Array(VAPID_KEY_BYTES))).toThrow();
});
