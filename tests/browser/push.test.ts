/// <reference lib="dom" />
/// <reference lib="webworker" />
import type { Browser, Page, Worker } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test, vi } from "vitest";
import type { AnswerClaims } from "../../src/alarms/answer-token.ts";
import type { PushPayload } from "../../src/ground/push-payload.ts";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { makeVapidKey, vapidKeys } from "../../src/outputs/phones/ways/vapid-keys.ts";
import { needs } from "../support/needs.ts";
import { SharedPage, startBrowser } from "./browser.ts";
import { HazelComfort, OIL_PRESSURE_LOW } from "./hazel-comfort.ts";

const waiting = { timeout: 20_000, interval: 20 };

/**
 * The push service's part is played by the browser's own developer tools, which hand a message to
 * the service worker as if it had come. What that leaves unproven: that a push service takes the
 * subscription and wakes a phone, and that a phone's system shows the buttons.
 */
needs("chromium")("the service worker", () => {
  const boat = new HazelComfort();
  const answered: AnswerClaims[] = [];
  let browser: Browser;
  let page: Page;
  let worker: Worker;
  let server: PageServer;
  let url: string;
  let deliver: (payload: PushPayload) => Promise<void>;

  beforeAll(async () => {
    boat.alarms = [OIL_PRESSURE_LOW];
    server = pageServer();
    server.show(boat.name, buildView(boat.sources()), { answer: () => ({ accepted: true }) });
    ({ url } = await server.start({ hostname: "127.0.0.1", port: 0 }));
    const { origin } = new URL(url);

    browser = await startBrowser();
    const { context, page: opened } = await SharedPage.open(browser);
    page = opened;
    await context.grantPermissions(["notifications"], { origin });
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
    await vi.waitUntil(() => context.serviceWorkers().length > 0, waiting);
    worker = context.serviceWorkers()[0];
    await worker.evaluate(countShown);
    deliver = async (payload) => {
      const before = await worker.evaluate(howManyShown);
      const data = JSON.stringify(payload);
      await tools.send("ServiceWorker.deliverPushMessage", { origin, registrationId, data });
      await vi.waitUntil(async () => await worker.evaluate(howManyShown) > before, waiting);
    };
  });

  afterEach(() => {
    answered.length = 0;
  });

  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  function pageServer(): PageServer {
    const claims: AnswerClaims = {
      ...{ boat: boat.name, tag: OIL_PRESSURE_LOW.tag, subject: "port", occurrence: 3 },
      ...{ action: "have-it", person: "Kim", expires: boat.now },
    };
    return new PageServer({
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
  }

  function payload(tag: string, token = "TOKEN"): PushPayload {
    return {
      title: "Hazel Comfort",
      body: "ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18, since 14:31.",
      tag,
      url,
      actions: [{ action: "have-it", title: "I have it", url: `${url}answer/${token}` }],
      time: "2026-06-14T13:31:52.000Z",
    };
  }

  /** What is on the lock screen under one tag. */
  function shown(tag: string) {
    return page.evaluate(async (tag) => {
      const registration = await navigator.serviceWorker.ready;
      const notifications = await registration.getNotifications({ tag });
      return notifications.map(({ title, body, tag }) => ({ title, body, tag }));
    }, tag);
  }

  /** Presses a button of the notification; developer tools cannot, so the worker is told. */
  async function press(action: string, tag: string): Promise<void> {
    await worker.evaluate(async ({ action, tag }) => {
      const scope = self as unknown as ServiceWorkerGlobalScope;
      const [notification] = await scope.registration.getNotifications({ tag });
      const event = new NotificationEvent("notificationclick", { notification, action });
      let work: Promise<unknown> = Promise.resolve();
      Object.defineProperty(event, "waitUntil", { value: (done: Promise<unknown>) => work = done });
      scope.dispatchEvent(event);
      await work;
    }, { action, tag });
  }

  test("shows a message that comes with what is wrong, once for each key", async () => {
    await deliver(payload("once"));
    expect(await shown("once")).toHaveLength(1);
    await deliver({ ...payload("once"), body: "ALARM: port oil pressure 9 psi." });
    expect(await shown("once")).toEqual([{
      title: "Hazel Comfort",
      body: "ALARM: port oil pressure 9 psi.",
      tag: "once",
    }]);
  });

  test("gives the message its buttons", async () => {
    await deliver(payload("buttons"));
    const buttons = await worker.evaluate(async () => {
      const scope = self as unknown as ServiceWorkerGlobalScope;
      const [notification] = await scope.registration.getNotifications({ tag: "buttons" });
      return JSON.stringify(Reflect.get(notification, "actions"));
    });
    expect(JSON.parse(buttons)).toMatchObject([{ action: "have-it", title: "I have it" }]);
  });

  test("answers by the link of the button, and says what the boat made of it", async () => {
    await deliver(payload("answered"));
    await press("have-it", "answered");
    expect(answered).toMatchObject([{ action: "have-it", person: "Kim", occurrence: 3 }]);
    expect(await shown("answered")).toMatchObject([
      { body: "You have it. Nobody else is called now." },
    ]);
  });

  test("says so where the boat refuses the answer", async () => {
    await deliver(payload("refused", "OLD"));
    await press("have-it", "refused");
    expect(await shown("refused")).toMatchObject([
      { body: "Not answered: That link is too old to be used. Nothing was changed." },
    ]);
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

/**
 * Has the worker count what it has shown. To ask the browser for what is shown while a message comes
 * would take the message away: the browser compares what lies in its memory with what it sees on the
 * screen, and lets go of what is not there yet.
 */
function countShown(): void {
  const scope = self as unknown as ServiceWorkerGlobalScope & { shown: number };
  scope.shown = 0;
  const { registration } = scope;
  const show = registration.showNotification.bind(registration);
  registration.showNotification = async (title, options) => {
    await show(title, options);
    scope.shown++;
  };
}

function howManyShown(): number {
  return Reflect.get(self, "shown");
}
