import { describe, expect, onTestFinished, test } from "vitest";
import { PRIORITIES, type Priority } from "../../src/alarms/words.ts";
import { DAY, HOUR, SECOND } from "../../src/ground/time.ts";
import type { PhoneMessage } from "../../src/outputs/phones/way.ts";
import type { PushSubscription } from "../../src/outputs/phones/ways/push-subscription.ts";
import { PushWay } from "../../src/outputs/phones/ways/push-way.ts";
import {
  makeVapidKey,
  type VapidKeys,
  vapidKeys,
} from "../../src/outputs/phones/ways/vapid-keys.ts";
import { PushService } from "../support/push-service.ts";
import { ALARM, describeWay, micros } from "../support/way-conformance.ts";

// The far side is no push service of anybody's, none of which can be reached here. It reads what it is
// sent with http_ece and checks who sends with jose: neither is the library that wrote it.

const keys = vapidKeys(makeVapidKey());
const never = new AbortController().signal;

interface Opened {
  readonly service: PushService;
  readonly devices: PushSubscription[];
  readonly gone: string[];
  way(patience?: number, keys?: VapidKeys, client?: Deno.HttpClient): PushWay;
  stop(): Promise<void>;
}

function open(): Opened {
  const place = Deno.makeTempDirSync({ prefix: "sternfast-" });
  const service = new PushService(place);
  const client = Deno.createHttpClient({ caCerts: [service.authority] });
  const devices: PushSubscription[] = [service.subscribe("phone")];
  const gone: string[] = [];
  return {
    service,
    devices,
    gone,
    way: (patience = 20_000, own = keys, by = client) =>
      new PushWay({
        name: "push",
        devices: () => devices,
        onGone: ({ endpoint }) => gone.push(endpoint),
        keys: own,
        contact: "mailto:ellen@boat.example",
        patience: micros(patience),
        wall: () => ALARM.time,
        client: by,
      }),
    async stop() {
      client.close();
      await service.stop();
      Deno.removeSync(place, { recursive: true });
    },
  };
}

describeWay("a push message", () => {
  const { service, way, stop } = open();
  const release = Promise.withResolvers<void>();
  let stopped: Promise<void> | undefined;
  const stopOnce = () => stopped ??= stop();
  return {
    way,
    async next(far) {
      if (far === "not-now") service.answers.push({ status: 503 });
      if (far === "refuses") service.answers.push({ status: 413 });
      if (far === "hangs") service.held = release.promise;
      if (far === "is-gone") await service.stop();
    },
    askFor37Seconds() {
      service.answers.push({ status: 429, headers: { "Retry-After": "37" } });
    },
    taken: () =>
      service.received.map(({ payload: { tag, body }, headers }) => ({
        key: headers.get("Topic") === tag ? tag : "",
        text: body,
        headerNames: [...headers.keys()],
      })),
    secrets: ["s3cret", keys.privateKey],
    async stop() {
      release.resolve();
      await stopOnce();
    },
  };
});

describe("push messages", () => {
  function opened(): Opened {
    const one = open();
    onTestFinished(() => one.stop());
    return one;
  }

  test("say who sends, to this service only, for at most a day, and whom to write to", async () => {
    const { service, way } = opened();
    await way().send(ALARM, never);
    const [{ claims, sender }] = service.received;
    expect(sender).toBe(keys.publicKey);
    expect(claims).toMatchObject({ aud: service.origin, sub: "mailto:ellen@boat.example" });
    const left = (claims.exp ?? 0) * SECOND - micros(Date.now());
    expect(left).toBeGreaterThan(HOUR);
    expect(left).toBeLessThanOrEqual(DAY);
  });

  test("have what a service worker shows, and all are of one length to whoever looks on", async () => {
    const { service, way } = opened();
    await way().send(ALARM, never);
    await way().send({ ...ALARM, text: "Hazel Comfort: a test." }, never);
    const [{ payload, bytes }, short] = service.received;
    expect(payload).toEqual({
      title: "Hazel Comfort, ALARM",
      body: "Port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. " +
        "Bring that engine to idle – and look at the helm gauge: 160 °F.",
      tag: ALARM.key,
      actions: [
        { action: "have-it", title: "I have it", url: "https://boat.example/answer/one" },
        { action: "acknowledge", title: "I know of it", url: "https://boat.example/answer/two" },
      ],
      time: "2026-06-14T13:31:20.000Z",
    });
    // RFC 8030, section 7.2: no service need take more.
    expect(bytes).toBe(4096);
    expect(short.bytes).toBe(bytes);
  });

  test("wake a phone for an alarm, and wait for it with a caution", async () => {
    const { service, way } = opened();
    const sent: [Priority, PhoneMessage["about"]][] = [
      ...PRIORITIES.map((priority): [Priority, "raised"] => [priority, "raised"]),
      ["emergency-alarm", "returned"],
      ["caution", "daily-line"],
    ];
    for (const [priority, about] of sent) await way().send({ ...ALARM, priority, about }, never);
    expect(
      service.received.map(({ headers }) => [headers.get("Urgency"), headers.get("TTL")]),
    ).toEqual([
      ["high", "86400"],
      ["high", "86400"],
      ["normal", "43200"],
      ["low", "14400"],
      ["normal", "43200"],
      ["low", "14400"],
    ]);
  });

  test("go to every device of a person, and are told when one has taken them", async () => {
    const { service, devices, gone, way } = opened();
    devices.push(service.subscribe("tablet"));
    expect(await way().send(ALARM, never)).toEqual({ kind: "accepted" });
    expect(service.received.map(({ device }) => device).toSorted()).toEqual(["phone", "tablet"]);
    service.answers.push({ status: 503 });
    expect(await way().send(ALARM, never)).toEqual({ kind: "accepted" });
    expect(gone).toEqual([]);
  });

  test.each([404, 410])(
    "let go of a device that answers %i, and keep the others",
    async (status) => {
      const { service, devices, gone, way } = opened();
      service.answers.push({ status });
      expect(await way().send(ALARM, never)).toEqual({
        kind: "refused",
        why: "a device has ended its subscription",
      });
      expect(gone).toEqual([devices[0].endpoint]);
    },
  );

  test("let go of a device whose keys nobody can write for", async () => {
    const { devices, gone, way } = opened();
    const point = new Uint8Array(65).fill(7);
    point[0] = 4;
    const p256dh = point.toBase64({ alphabet: "base64url", omitPadding: true });
    devices[0] = { ...devices[0], keys: { ...devices[0].keys, p256dh } };
    expect(await way().send(ALARM, never)).toMatchObject({ kind: "refused" });
    expect(gone).toHaveLength(1);
  });

  test("let go of no device where the boat's own key is the fault", async () => {
    const { gone, way } = opened();
    await expect(way(20_000, { ...keys, publicKey: "" }).send(ALARM, never)).rejects.toThrow();
    expect(gone).toEqual([]);
  });

  test("go to no service whose certificate nobody has signed, and say so", async () => {
    const { service, way } = opened();
    const client = Deno.createHttpClient({});
    onTestFinished(() => client.close());
    expect(await way(20_000, keys, client).send(ALARM, never)).toEqual({
      kind: "try-again",
      why: `${new URL(service.origin).host} has a certificate that this computer does not trust`,
    });
  });

  test("say that nobody has asked for them, where that is so", async () => {
    const { devices, way } = opened();
    devices.length = 0;
    expect(await way().send(ALARM, never)).toEqual({
      kind: "refused",
      why:
        "none of Ellen's devices has asked for it; “Tell this device of alarms” on the page does",
    });
  });
});

describe("the service of these tests", () => {
  test("does not take what somebody else has signed or nobody can read", async () => {
    const one = open();
    onTestFinished(() => one.stop());
    // Another browser has the same address since: the message was written for the earlier one.
    one.service.subscribe("phone");
    expect(await one.way().send(ALARM, never)).toMatchObject({ kind: "refused" });
    expect(one.service.received).toEqual([]);
  });
});
