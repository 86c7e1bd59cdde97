import { createECDH, randomBytes } from "node:crypto";
import { describe, expect, test } from "vitest";
import { PushSubscriptions } from "../../outputs/phones/ways/push-subscriptions.ts";
import { makeVapidKey, vapidKeys } from "../../outputs/phones/ways/vapid-keys.ts";
import { pushDesk } from "./push-desk.ts";

function subscription(device: string) {
  const p256dh = createECDH("prime256v1").generateKeys("base64url");
  const auth = randomBytes(16).toString("base64url");
  return { endpoint: `https://push.example/${device}`, keys: { p256dh, auth } };
}

function opened() {
  const subscriptions = new PushSubscriptions([], () => Promise.resolve());
  const devices = { subscriptions, keys: vapidKeys(makeVapidKey()), gone: () => {} };
  return { subscriptions, desk: pushDesk(devices, ["Ellen"]) };
}

describe("where a browser asks to be told", () => {
  test("takes it for somebody who is told by push messages, and lets it go again", async () => {
    const { subscriptions, desk } = opened();
    const phone = subscription("phone");
    expect(await desk.subscribe(phone, "Ellen")).toEqual({ accepted: true });
    expect(subscriptions.of("Ellen")).toMatchObject([phone]);
    expect(await desk.unsubscribe(phone.endpoint)).toEqual({ accepted: true });
    expect(subscriptions.of("Ellen")).toEqual([]);
  });

  test.each([
    ["nobody who is told", subscription("phone"), "Tom"],
    ["what is no subscription", { endpoint: "http://push.example/phone" }, "Ellen"],
    ["nothing", undefined, "Ellen"],
  ])("refuses %s", async (_, written, person) => {
    const { subscriptions, desk } = opened();
    expect(await desk.subscribe(written, person)).toMatchObject({ accepted: false });
    expect(subscriptions.of(person)).toEqual([]);
  });

  test("refuses a device that cannot be written down, and does not tell it", async () => {
    const subscriptions = new PushSubscriptions([], () => Promise.reject(new Error("disk full")));
    const keys = vapidKeys(makeVapidKey());
    const desk = pushDesk({ subscriptions, keys, gone: () => {} }, ["Ellen"]);
    expect(await desk.subscribe(subscription("phone"), "Ellen")).toEqual({
      accepted: false,
      refused: "It could not be written down; is the disk full?",
    });
    expect(subscriptions.of("Ellen")).toEqual([]);
  });

  test("refuses more devices than a person has", async () => {
    const { desk } = opened();
    for (let i = 0; i < 20; i++) await desk.subscribe(subscription(`${i}`), "Ellen");
    expect(await desk.subscribe(subscription("20"), "Ellen")).toEqual({
      accepted: false,
      refused: "Ellen has too many devices; end one of them first.",
    });
  });
});
