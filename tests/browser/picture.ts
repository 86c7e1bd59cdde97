/**
 * Takes pictures of the page of a made-up boat with rich data:
 *
 *     deno run -A tests/browser/picture.ts FOLDER
 */
import { resolve } from "node:path";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { startBrowser } from "./browser.ts";
import {
  FORWARD_BILGE_OVER,
  FUEL_CAUTION,
  HazelComfort,
  OIL_PRESSURE_LOW,
} from "./hazel-comfort.ts";

const LOOKS = [
  { name: "phone-day", width: 390, colorScheme: "light", light: "" },
  { name: "phone-night", width: 390, colorScheme: "dark", light: "" },
  { name: "phone-red", width: 390, colorScheme: "dark", light: "red" },
  { name: "desk-day", width: 1280, colorScheme: "light", light: "" },
  { name: "desk-night", width: 1280, colorScheme: "dark", light: "" },
] as const;

/** Writes `phone-day.png`, `desk-night.png` and so on into a folder. */
export async function takePictures(folder: string): Promise<void> {
  const boat = new HazelComfort();
  boat.alarms = [FUEL_CAUTION, FORWARD_BILGE_OVER, OIL_PRESSURE_LOW];
  const server = new PageServer({
    view: buildView(boat.sources()),
    acknowledge: () => ({ accepted: false, refused: "This is only a picture." }),
    trouble: (error) => {
      throw error;
    },
  });
  const { url } = await server.start({ hostname: "127.0.0.1", port: 0 });
  const browser = await startBrowser();
  try {
    for (const { name, width, colorScheme, light } of LOOKS) {
      const viewport = { width, height: width === 390 ? 844 : 900 };
      const context = await browser.newContext({ viewport, colorScheme, deviceScaleFactor: 2 });
      const page = await context.newPage();
      await page.goto(url);
      if (light !== "") await page.getByLabel("Light").selectOption(light);
      await page.screenshot({ path: resolve(folder, `${name}.png`), fullPage: true });
      await context.close();
    }
  } finally {
    await browser.close();
    await server.stop();
  }
}

if (import.meta.main) await takePictures(Deno.args[0] ?? ".");
