/// <reference lib="dom" />
/// <reference lib="webworker" />
import type { Browser, BrowserContext, Page, Worker } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from "vitest";
import type { AnswerClaims } from "../../src/alarms/answer-token.ts";
import type { PushPayload } from "../../src/ground/push-payload.ts";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { makeVapidKey, vapidKeys } from "../../src/outputs/phones/ways/vapid-keys.ts";
import { needs } from "../support/needs.ts";
import { startBrowser } from "./browser.ts";
import { HazelComfort, OIL_PRESSURE_LOW } from "./hazel-comfort.ts";

const waiting = { timeout: 20_000, interval: 20 };

/**
 * The push service's part is played by the browser's own developer tools, which hand a message to
 * the service worker as if it had come. What that leaves unproven: that a push service takes the
 * subscription and wakes a phone, and that a phone's system shows the buttons.
 */
needs("chromium")("the service worker", () => {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let worker: Worker;
  let server: PageServer;
  let url: string;
  let answered: AnswerClaims[];
  let deliver: (payload: PushPayload) => Promise<void>;

  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.close());

  beforeEach(async () => {
    const boat = new HazelComfort();
    boat.alarms = [OIL_PRESSURE_LOW];
    answered = [];
    const claims: AnswerClaims = {
      ...{ boat: boat.name, tag: OIL_PRESSURE_LOW.tag, subject: "port", occurrence: 3 },
      ...{ action: "have-it", person: "Kim", expires: boat.now },
    };
    server = new PageServer({
      aboard: true,
      timeZone: "UTC",
      clock: { steady: () => boat.now, wall: () => boat.now },
      push: {
        publicKey: vapidKeys(makeVapidKey()).publicKey,
        people: ["Kim", "Robin"],
        subscribe: () => Promise.resolve({ accepted: true }),
        unsubscribe: () => Promise.resolve({ accepted: true }),
      },
      links: {
        look: (token) =>
          token === "TOKEN"
            ? {
              usable: true,
              isProven: true,
              claims,
              boat: "Hazel Comfort",
              title: boat.alarms[0].title,
              status: boat.alarms[0],
            }
            : { usable: false, refused: "That link is too old to be used. Nothing was changed." },
        answer(_, given) {
          answered.push(given);
          return Promise.resolve({ accepted: true });
        },
      },
      trouble: (error) => {
        throw error;
      },
    });
    server.show(boat.name, buildView(boat.sources()), { answer: () => ({ accepted: true }) });
    ({ url } = await server.start({ hostname: "127.0.0.1", port: 0 }));

    context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    await context.grantPermissions(["notifications"], { origin: new URL(url).origin });
    page = await context.newPage();
    const tools = await context.newCDPSession(page);
    const registered = new Promise<string>((resolve) =>
      tools.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => {
        if (registrations.length > 0) resolve(registrations[0].registrationId);
      })
    );
    await tools.send("ServiceWorker.enable");
    await page.goto(url);
    await page.getByRole("button", { name: "Tell this device of alarms" }).waitFor();
    const registrationId = await registered;
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await vi.waitUntil(() => context.serviceWorkers().length > 0, waiting);
    worker = context.serviceWorkers()[0];
    deliver = async (payload) => {
      const { origin } = new URL(url);
      const data = JSON.stringify(payload);
      await tools.send("ServiceWorker.deliverPushMessage", { origin, registrationId, data });
    };
  });

  afterEach(async () => {
    await context.close();
    await server.stop();
  });

  function payload(token = "TOKEN"): PushPayload {
    return {
      title: "Hazel Comfort",
      body: "ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18, since 14:31.",
      tag: "key-of-this-message",
      url,
      actions: [{ action: "have-it", title: "I have it", url: `${url}answer/${token}` }],
      time: "2026-06-14T13:31:52.000Z",
    };
  }

  /** What is on the lock screen. */
  function shown() {
    return page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      const notifications = await registration.getNotifications();
      return notifications.map(({ title, body, tag }) => ({ title, body, tag }));
    });
  }

  /** Presses a button of the notification; developer tools cannot, so the worker is told. */
  async function press(action: string): Promise<void> {
    await worker.evaluate(async (action) => {
      const scope = self as unknown as ServiceWorkerGlobalScope;
      const [notification] = await scope.registration.getNotifications();
      const event = new NotificationEvent("notificationclick", { notification, action });
      let work: Promise<unknown> = Promise.resolve();
      Object.defineProperty(event, "waitUntil", { value: (done: Promise<unknown>) => work = done });
      scope.dispatchEvent(event);
      await work;
    }, action);
  }

  test("shows a message that comes with what is wrong, once for each key", async () => {
    await deliver(payload());
    await vi.waitUntil(async () => (await shown()).length === 1, waiting);
    await deliver({ ...payload(), body: "ALARM: port oil pressure 9 psi." });
    await vi.waitUntil(async () => (await shown())[0]?.body.includes("9 psi"), waiting);
    expect(await shown()).toEqual([{
      title: "Hazel Comfort",
      body: "ALARM: port oil pressure 9 psi.",
      tag: "key-of-this-message",
    }]);
  });

  test("gives the message its buttons", async () => {
    await deliver(payload());
    await vi.waitUntil(async () => (await shown()).length === 1, waiting);
    const buttons = await worker.evaluate(async () => {
      const scope = self as unknown as ServiceWorkerGlobalScope;
      const [notification] = await scope.registration.getNotifications();
      return JSON.stringify(Reflect.get(notification, "actions"));
    });
    expect(JSON.parse(buttons)).toMatchObject([{ action: "have-it", title: "I have it" }]);
  });

  test("answers by the link of the button, and says what the boat made of it", async () => {
    await deliver(payload());
    await vi.waitUntil(async () => (await shown()).length === 1, waiting);
    await press("have-it");
    expect(answered).toMatchObject([{ action: "have-it", person: "Kim", occurrence: 3 }]);
    await vi.waitUntil(
      async () => (await shown())[0]?.body === "You have it. Nobody else is called now.",
      waiting,
    );
  });

  test("says so where the boat refuses the answer", async () => {
    await deliver(payload("OLD"));
    await vi.waitUntil(async () => (await shown()).length === 1, waiting);
    await press("have-it");
    await vi.waitUntil(
      async () => (await shown())[0]?.body.startsWith("Not answered: That link is too old"),
      waiting,
    );
    expect(answered).toEqual([]);
  });

  test("lets a person say whose device it is", async () => {
    const whose = page.getByLabel("Whose is it?");
    expect(await whose.locator("option").allTextContents()).toEqual(["Kim", "Robin"]);
    expect(await page.locator("#push-words").textContent()).toContain(
      "This device is not told of alarms.",
    );
  });
});
