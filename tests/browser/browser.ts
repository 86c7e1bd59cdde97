import { type Browser, chromium } from "playwright-core";

export const CHROMIUM = "/usr/bin/chromium";

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
    ],
  });
}
