import { createECDH, randomBytes } from "node:crypto";
import { describe, expect, test } from "vitest";
import {
  type KeptSubscription,
  type PushSubscription,
  pushSubscriptionSchema,
} from "./push-subscription.ts";
import { PushSubscriptions } from "./push-subscriptions.ts";

function subscription(name: string): PushSubscription {
  const p256dh = createECDH("prime256v1").generateKeys("base64url");
  const auth = randomBytes(16).toString("base64url");
  return {
    endpoint: `https://push.example/${name}`,
    expirationTime: null,
    keys: { p256dh, auth },
  };
}

describe("what a browser says of its subscription", () => {
  const { keys, endpoint } = subscription("phone");

  test("is taken as browsers write it", () => {
    const written = { endpoint, expirationTime: null, keys };
    expect(pushSubscriptionSchema.parse(written)).toEqual(written);
    expect(pushSubscriptionSchema.parse({ endpoint, keys }).expirationTime).toBeNull();
  });

  test.each([
    ["an address without TLS", { endpoint: "http://push.example/phone", keys }],
    ["an address that is none", { endpoint: "phone", keys }],
    ["a key of another curve", { endpoint, keys: { ...keys, p256dh: "AAAA" } }],
    ["a secret of another length", { endpoint, keys: { ...keys, auth: "AAAA" } }],
    ["no keys", { endpoint }],
    ["nothing", undefined],
  ])("is refused with %s", (_, written) => {
    expect(pushSubscriptionSchema.safeParse(written).success).toBe(false);
  });
});

describe("subscriptions", () => {
  function opened() {
    const kept: (readonly KeptSubscription[])[] = [];
    const keep = (all: readonly KeptSubscription[]) => {
      kept.push(all);
      return Promise.resolve();
    };
    return { kept, subscriptions: new PushSubscriptions([], keep) };
  }

  test("are kept at each change, and those that were dropped are not", async () => {
    const { subscriptions, kept } = opened();
    const [phone, tablet] = [subscription("phone"), subscription("tablet")];
    await subscriptions.add("Ellen", phone);
    await subscriptions.add("Ellen", tablet);
    await subscriptions.drop(tablet.endpoint);
    await subscriptions.drop(tablet.endpoint);
    expect(kept.map((all) => all.length)).toEqual([1, 2, 1]);
    const again = new PushSubscriptions(kept[2], () => Promise.resolve());
    expect(again.of("Ellen")).toEqual([phone]);
  });

  test("are of one person, the one who asked last", async () => {
    const { subscriptions } = opened();
    const phone = subscription("phone");
    await subscriptions.add("Ellen", phone);
    await subscriptions.add("Tom", phone);
    expect(subscriptions.of("Ellen")).toEqual([]);
    expect(subscriptions.of("Tom")).toEqual([phone]);
  });

  test("end at twenty devices of one person, of which each may ask again", async () => {
    const { subscriptions } = opened();
    const first = subscription("0");
    await subscriptions.add("Ellen", first);
    for (let i = 1; i < 20; i++) await subscriptions.add("Ellen", subscription(String(i)));
    expect(await subscriptions.add("Ellen", subscription("20"))).toBe("too-many");
    expect(await subscriptions.add("Ellen", first)).toBe("added");
    expect(await subscriptions.add("Tom", subscription("20"))).toBe("added");
  });
});
