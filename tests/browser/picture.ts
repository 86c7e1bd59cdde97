/**
 * Takes pictures of the page of a made-up boat:
 *
 *     deno run -A tests/browser/picture.ts FOLDER
 *
 * `page.png` is for the README; the others show phone and desk by day and night, from top to end,
 * and what the link of a message leads to.
 */
import { resolve } from "node:path";
import type { Browser } from "playwright-core";
import { buildView } from "../../src/outputs/page/build-view.ts";
import type { LinkSubject } from "../../src/outputs/page/answering/answer-links.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { startBrowser } from "./browser.ts";
import {
  FORWARD_BILGE_OVER,
  FUEL_CAUTION,
  HazelComfort,
  OIL_PRESSURE_LOW,
} from "./hazel-comfort.ts";

interface Look {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  /** From top to end, not only what fits. */
  readonly whole: boolean;
  readonly scheme: "light" | "dark";
  /** The reader's choice of light; empty for none. */
  readonly light: "" | "red";
}

const PHONE = { width: 390, height: 844, whole: true, light: "" } as const;
const DESK = { width: 1280, height: 900, whole: true, light: "" } as const;

const FOR_README: Look = {
  ...{ name: "page", width: 1080, height: 842 },
  ...{ whole: false, scheme: "light", light: "" },
};
const LOOKS: readonly Look[] = [
  { ...PHONE, name: "phone-day", scheme: "light" },
  { ...PHONE, name: "phone-night", scheme: "dark" },
  { ...PHONE, name: "phone-red", scheme: "dark", light: "red" },
  { ...DESK, name: "desk-day", scheme: "light" },
  { ...DESK, name: "desk-night", scheme: "dark" },
];

/** Writes one PNG a look into a folder. */
export async function takePictures(folder: string): Promise<void> {
  const browser = await startBrowser();
  const boat = new HazelComfort();
  boat.alarms = [OIL_PRESSURE_LOW];
  const server = new PageServer({
    aboard: true,
    timeZone: "Europe/London",
    clock: { steady: () => boat.now, wall: () => boat.now },
    links: {
      look: (token) => linkTo(boat, token),
      answer: () => Promise.resolve({ accepted: true }),
    },
    trouble: (error) => {
      throw error;
    },
  });
  server.show(boat.name, buildView(boat.sources()), {
    answer: () => ({ accepted: false, refused: "This is only a picture." }),
    hail: () => Promise.resolve([]),
  });
  const { url } = await server.start({ hostname: "127.0.0.1", port: 0 });
  try {
    await takePicture(browser, url, FOR_README, folder);
    boat.alarms = [FUEL_CAUTION, FORWARD_BILGE_OVER, OIL_PRESSURE_LOW];
    server.publish(boat.name, buildView(boat.sources()));
    for (const look of LOOKS) await takePicture(browser, url, look, folder);
    for (const token of ["aboard", "ashore", "old"]) {
      const look: Look = { ...PHONE, name: `link-${token}`, scheme: "light" };
      await takePicture(browser, `${url}answer/${token}`, look, folder);
    }
  } finally {
    await browser.close();
    await server.stop();
  }
}

/** The link of a message as the boat follows it, as the shore does, and one that is too old. */
function linkTo({ name }: HazelComfort, token: string): LinkSubject {
  if (token === "old") {
    return { usable: false, refused: "That link is too old to be used. Nothing was changed." };
  }
  const { tag, subject, occurrence, title } = OIL_PRESSURE_LOW;
  return {
    usable: true,
    isProven: token === "aboard",
    claims: {
      ...{ boat: name, tag, subject, occurrence, action: "have-it", person: "Kim" },
      expires: Infinity,
    },
    boat: "Hazel Comfort",
    title,
    status: token === "aboard" ? OIL_PRESSURE_LOW : undefined,
  };
}

async function takePicture(
  browser: Browser,
  url: string,
  { name, width, height, whole, scheme, light }: Look,
  folder: string,
): Promise<void> {
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme: scheme,
    deviceScaleFactor: 1.5,
  });
  const page = await context.newPage();
  await page.goto(url);
  if (light !== "") await page.getByLabel("Light").selectOption(light);
  await page.screenshot({ path: resolve(folder, `${name}.png`), fullPage: whole });
  await context.close();
}

if (import.meta.main) await takePictures(Deno.args[0] ?? ".");
