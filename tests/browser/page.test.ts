/// <reference lib="dom" />
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import type { Answer, AnswerOutcome } from "../../src/alarms/change.ts";
import { SECOND } from "../../src/ground/time.ts";
import type { BoatView } from "../../src/outputs/page/boat-view.ts";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageStartError } from "../../src/outputs/page/listening-address.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { needs } from "../support/needs.ts";
import { SharedPage, startBrowser } from "./browser.ts";
import { FORWARD_BILGE_OVER, HazelComfort, OIL_PRESSURE_LOW } from "./hazel-comfort.ts";

const PSI = 6894.757293168362;
/** Longer than the page waits before it says that it is old. */
const STALE_AFTER_MS = 6_000;

needs("chromium")("the page in a browser", () => {
  let browser: Browser;
  let boat: HazelComfort;
  let server: PageServer;
  let url: string;
  let answers: Answer[];
  let outcome: AnswerOutcome;
  let shared: SharedPage;

  beforeAll(async () => {
    browser = await startBrowser();
    shared = await SharedPage.open(browser);
  });

  afterAll(() => browser.close());

  beforeEach(async () => {
    boat = new HazelComfort();
    answers = [];
    outcome = { accepted: true };
    server = newServer();
    url = (await server.start({ hostname: "127.0.0.1", port: 0 })).url;
  });

  afterEach(async () => {
    await shared.clean();
    await server.stop();
  });

  function newServer(): PageServer {
    const made = new PageServer({
      aboard: true,
      timeZone: "Europe/London",
      clock: { steady: () => boat.now, wall: () => boat.now },
      trouble: (error) => {
        throw error;
      },
    });
    made.show(boat.name, view(), {
      answer: (answer) => {
        answers.push(answer);
        if (outcome.accepted) {
          boat.alarms = boat.alarms.map((alarm) => ({ ...alarm, state: "acknowledged" }));
          made.publish(boat.name, view());
        }
        return outcome;
      },
    });
    return made;
  }

  function view(): BoatView {
    return buildView(boat.sources());
  }

  /** Opens the page, and waits until it listens. */
  async function open(page: Page = shared.page): Promise<Page> {
    const listening = page.waitForResponse(`${url}changes`);
    await page.goto(url);
    await listening;
    return page;
  }

  test("shows new values as they come", async () => {
    const page = await open();
    boat.now += SECOND;
    boat.hear("engine/starboard/oil-pressure", 41 * PSI);
    server.publish(boat.name, view());
    const row = page.getByRole("row", { name: /^Oil pressure 41 psi/ });
    await row.waitFor();
    expect(shared.complaints).toEqual([]);
  });

  test("shows an alarm when it is raised, and sends its answer with the occurrence", async () => {
    const page = await open();
    expect(await page.title()).toBe("Hazel Comfort");
    await page.getByText("No alarms. 34 rules are on watch; 4 cannot be judged").waitFor();

    boat.alarms = [OIL_PRESSURE_LOW];
    server.publish(boat.name, view());
    await page.getByRole("article", { name: "Low oil pressure under load, port engine" }).waitFor();
    await page.waitForFunction(() => document.title === "(1) Hazel Comfort");
    expect(await page.locator("#announce").textContent()).toContain("Low oil pressure under load");

    await page.getByRole("button", { name: /^I know of it/ }).click();
    await page.getByText("Answered.", { exact: true }).waitFor();
    await page.getByText("Alarm, answered", { exact: true }).waitFor();
    expect(answers).toEqual([{
      kind: "acknowledge",
      tag: "oil-pressure-low-under-load",
      subject: "port",
      occurrence: 3,
      who: "the page",
    }]);
    expect(await page.getByRole("button", { name: /^I know of it/ }).count()).toBe(0);
    expect(shared.complaints).toEqual([]);
  });

  test("says why an answer was refused", async () => {
    outcome = { accepted: false, refused: "That alarm rose again meanwhile." };
    boat.alarms = [OIL_PRESSURE_LOW];
    server.publish(boat.name, view());
    const page = await open();
    await page.getByRole("button", { name: /^I know of it/ }).click();
    await page.getByText("Not answered: That alarm rose again meanwhile.").waitFor();
  });

  test("can be answered from the keyboard, and keeps the focus while values change", async () => {
    boat.alarms = [OIL_PRESSURE_LOW];
    server.publish(boat.name, view());
    const page = await open();
    await page.getByRole("button", { name: /^I know of it/ }).focus();
    boat.alarms = [{ ...OIL_PRESSURE_LOW, message: "Port oil pressure 9 psi, limit 18 psi." }];
    server.publish(boat.name, view());
    await page.getByText("Port oil pressure 9 psi").waitFor();
    await page.keyboard.press("Enter");
    await page.getByText("Answered.", { exact: true }).waitFor();
    expect(answers).toHaveLength(1);
  });

  test("keeps a list open that a person opened, through a change of its text", async () => {
    const page = await open();
    await page.getByText("Which cannot be judged").click();
    boat.alarms = [OIL_PRESSURE_LOW];
    server.publish(boat.name, view());
    await page.getByText("1 alarm, not yet answered").waitFor();
    expect(await page.getByText("Exhaust too hot, port engine: never heard").isVisible()).toBe(
      true,
    );
  });

  test("fits screens from a small phone to a desk", async () => {
    boat.alarms = [OIL_PRESSURE_LOW, FORWARD_BILGE_OVER];
    server.publish(boat.name, view());
    const page = await open();
    for (const width of [320, 390, 768, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide).toBeLessThanOrEqual(width);
    }
    expect(shared.complaints).toEqual([]);
  });

  test("is dark at night, and red where a person wants that, which holds", async () => {
    await shared.page.emulateMedia({ colorScheme: "dark" });
    const page = await open();
    const paper = () =>
      page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    expect(await paper()).toBe("rgb(16, 21, 26)");
    await page.getByLabel("Light").selectOption("red");
    expect(await paper()).toBe("rgb(0, 0, 0)");
    await page.reload();
    expect(await paper()).toBe("rgb(0, 0, 0)");
    await page.getByLabel("Light").selectOption("day");
    expect(await paper()).toBe("rgb(251, 250, 246)");
  });

  test("has enough contrast by day and by night", async () => {
    boat.alarms = [OIL_PRESSURE_LOW, FORWARD_BILGE_OVER];
    server.publish(boat.name, view());
    const page = await open();
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
      for (const name of ["ink", "soft", "alarm", "warning", "caution"]) {
        expect(await contrast(page, name), `${name}, ${colorScheme}`).toBeGreaterThan(4.5);
      }
    }
  });

  test("runs no script that another could put into it", async () => {
    boat.alarms = [{
      ...OIL_PRESSURE_LOW,
      message: `<img src=x onerror="document.title='got in'">`,
    }];
    const page = await open();
    server.publish(boat.name, view());
    await page.locator(".message", { hasText: "onerror" }).waitFor();
    expect(await page.title()).toBe("(1) Hazel Comfort");
    const evaluated = await page.evaluate(() =>
      new Promise<string>((done) => {
        document.addEventListener("securitypolicyviolation", (event) =>
          done(event.effectiveDirective));
        const script = document.createElement("script");
        script.textContent = "document.title = 'got in'";
        document.body.append(script);
      })
    );
    expect(evaluated).toBe("script-src-elem");
    expect(await page.title()).toBe("(1) Hazel Comfort");
  });

  test("says that it is old when the boat is heard no more, and goes on when she is", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.clock.install();
    await open(page);
    const port = Number(new URL(url).port);
    await server.stop();
    await page.clock.fastForward(STALE_AFTER_MS);
    await page.locator("#stale", {
      hasText: /^No word from the boat since 14:37:52, \d+ seconds ago\. Everything below is from/,
    }).waitFor();

    boat.hear("engine/starboard/oil-pressure", 37 * PSI);
    server = newServer();
    await server.start({ hostname: "127.0.0.1", port });
    await page.getByRole("row", { name: /^Oil pressure 37 psi/ }).waitFor();
    await page.locator("#stale").waitFor({ state: "hidden" });
    await context.close();
  });

  test("can be read, and answered, without a script", async () => {
    boat.alarms = [OIL_PRESSURE_LOW];
    server.publish(boat.name, view());
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(url);
    await page.getByText("not heard for 5 min", { exact: true }).waitFor();
    await page.getByRole("button", { name: /^I know of it/ }).click();
    await page.getByText("Alarm, answered", { exact: true }).waitFor();
    expect(page.url()).toBe(url);
    expect(answers).toHaveLength(1);
    await context.close();
  });

  test("says so when another program has its port", async () => {
    const second = newServer();
    const port = Number(new URL(url).port);
    await expect(second.start({ hostname: "127.0.0.1", port })).rejects.toThrow(
      new PageStartError(
        "port-in-use",
        `The page was not started: another program already uses 127.0.0.1:${port}. ` +
          `Stop that program or give the page another port.`,
      ),
    );
  });

  test("is not served to others", async () => {
    await expect(newServer().start({ hostname: "0.0.0.0", port: 0 })).rejects.toThrow(
      /it needs a passphrase/,
    );
  });
});

/** Contrast of one of the page's colours to its paper (WCAG 2.2, "contrast ratio"). */
function contrast(page: Page, name: string): Promise<number> {
  return page.evaluate((name) => {
    const style = getComputedStyle(document.documentElement);
    const luminance = (variable: string) => {
      const hex = style.getPropertyValue(variable).trim();
      const [red, green, blue] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255)
        .map((share) => share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4);
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const [darker, lighter] = [luminance("--paper"), luminance(`--${name}`)].sort((a, b) => a - b);
    return (lighter + 0.05) / (darker + 0.05);
  }, name);
}
