import { type Browser, chromium } from "playwright-core";

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
