import { encryptNotification } from "@block65/webcrypto-web-push";
import { Buffer } from "node:buffer";
import { createECDH } from "node:crypto";
// @ts-types="../support/http-ece.d.ts"
import contentEncoding from "http_ece";
import { jwtVerify } from "jose";
import { describe, expect, test } from "vitest";
import { pushSubscriptionSchema } from "../../src/outputs/phones/ways/push-subscription.ts";
import { PUSH_TEXT_BYTES } from "../../src/outputs/phones/ways/push-text.ts";
import { vapidKeys } from "../../src/outputs/phones/ways/vapid-keys.ts";
import { authorization, publicKey } from "../support/push-service.ts";

// The worked examples of the standards hold for the readers by which our tests judge, and for the
// keys that we make.

describe("the examples of RFC 8188", () => {
  test("section 3.1: one record", () => {
    const body = Buffer.from(
      "I1BsxtFttlv3u_Oo94xnmwAAEAAA-NAVub2qFgBEuQKRapoZu-IxkIva3MEB1PD-ly8Thjg",
      "base64url",
    );
    const key = Buffer.from("yqdlZ-tYemfogSmv7Ws5PQ", "base64url");
    const text = contentEncoding.decrypt(body, { version: "aes128gcm", key });
    expect(text.toString()).toBe("I am the walrus");
  });

  test("section 3.2: two records with padding", () => {
    const body = Buffer.from(
      "uNCkWiNYzKTnBN9ji3-qWAAAABkCYTHOG8chz_gnvgOqdGYovxyjuqRyJFjEDyoF1Fvkj6hQPdPHI51OEUKEpgz3SsLWIqS_uA",
      "base64url",
    );
    const key = Buffer.from("BO3ZVPxUlnLORbVGMpbT1Q", "base64url");
    const text = contentEncoding.decrypt(body, { version: "aes128gcm", key });
    expect(text.toString()).toBe("I am the walrus");
  });
});

describe("the example of RFC 8291, section 5 and appendix A", () => {
  const browser = createECDH("prime256v1");
  browser.setPrivateKey("q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94", "base64url");
  const p256dh =
    "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4";
  const auth = "BTBZMqHH6r4Tts7J_aSIgg";
  const reader = {
    version: "aes128gcm",
    privateKey: browser,
    authSecret: Buffer.from(auth, "base64url"),
  } as const;
  const body = Buffer.from(
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN",
    "base64url",
  );

  test("is read as it should be", () => {
    expect(browser.getPublicKey("base64url")).toBe(p256dh);
    expect(contentEncoding.decrypt(body, reader).toString()).toBe(
      "When I grow up, I want to be a watermelon",
    );
  });

  test("has a browser that we can write to, in as many bytes as a message may have", async () => {
    const subscription = pushSubscriptionSchema.parse({
      endpoint: "https://push.example.net/push/JzLQ3raZJfFBR0aqvOMsLrt54w4rJUsV",
      keys: { p256dh, auth },
    });
    const text = "w".repeat(PUSH_TEXT_BYTES);
    const written = await encryptNotification(subscription, new TextEncoder().encode(text));
    expect(written).toHaveLength(4096);
    expect(contentEncoding.decrypt(Buffer.from(written), reader).toString()).toBe(text);
    const longer = new TextEncoder().encode(`${text}w`);
    await expect(encryptNotification(subscription, longer)).rejects.toThrow();
  });

  test("has a sender's key from which its public key follows", () => {
    const privateKey = "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw";
    expect(vapidKeys(Buffer.from(privateKey, "base64url")).publicKey).toBe(
      body.subarray(21, 86).toString("base64url"),
    );
  });
});

test("the example of RFC 8292, section 2.4, is signed by the key that it names", async () => {
  const { token, sender } = authorization(
    "vapid t=eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9.eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQiLCJleHAi" +
      "OjE0NTM1MjM3NjgsInN1YiI6Im1haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0.i3CYb7t4xfxCDquptFOepC9GAu_HLGkMlMuC" +
      "GSK2rpiUfnK9ojFwDXb1JrErtmysazNjjvW2L9OkSSHzvoD1oA, k=BA1Hxzyi1RUM1b5wjxsn7nGxAszw2u61m164i3MrAI" +
      "xHF6YK5h4SDYic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs",
  );
  const beforeItsEnd = new Date((1_453_523_768 - 60) * 1000);
  const { payload } = await jwtVerify(token, await publicKey(sender), {
    algorithms: ["ES256"],
    audience: "https://push.example.net",
    currentDate: beforeItsEnd,
  });
  expect(payload).toEqual({
    aud: "https://push.example.net",
    exp: 1_453_523_768,
    sub: "mailto:push@example.com",
  });
  const forged = `${token.slice(0, -10)}AAAAAAAAAA`;
  await expect(jwtVerify(forged, await publicKey(sender), { currentDate: beforeItsEnd })).rejects
    .toThrow();
});
