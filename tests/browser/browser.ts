/// <reference lib="dom" />
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";

export const CHROMIUM = "/usr/bin/chromium";

/** A name that only this browser knows, for this computer: an address that is not loopback to it. */
export const BOAT_HOST = "boat.test";

/** A browser of its own, without a window, that asks nothing of the network by itself. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM,
    headless: true,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      `--host-resolver-rules=MAP ${BOAT_HOST} 127.0.0.1`,
    ],
  });
}

const PHONE = { width: 390, height: 844 };

/**
 * One page of a phone's size for all tests of a file, each of which begins with a clean one: a new
 * one a test takes longer than most tests do.
 */
export class SharedPage {
  /** What the browser complains of since the last test. */
  complaints: string[] = [];

  private constructor(readonly context: BrowserContext, readonly page: Page) {
    page.on("console", (message) => {
      if (message.type() !== "log") this.complaints.push(message.text());
    });
    page.on("pageerror", (error) => this.complaints.push(error.message));
  }

  static async open(browser: Browser): Promise<SharedPage> {
    const context = await browser.newContext({ viewport: PHONE });
    return new SharedPage(context, await context.newPage());
  }

  /** Leaves the page, with nothing of it kept. */
  async clean(): Promise<void> {
    const { page, context } = this;
    if (page.url() !== BLANK) await page.evaluate(() => localStorage.clear());
    await page.goto(BLANK);
    await context.clearCookies();
    await page.setViewportSize(PHONE);
    await page.emulateMedia({ colorScheme: null });
    this.complaints = [];
  }
}

const BLANK = "about:blank";
