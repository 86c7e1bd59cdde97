import { afterAll, beforeAll, expect, test } from "vitest";
import type { Browser } from "playwright-core";
import { rehearse } from "../../src/commands/rehearse.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { inside } from "../support/inside.ts";
import { needs } from "../support/needs.ts";
import { ROOT } from "../support/sternfast.ts";
import { startBrowser } from "../browser/browser.ts";

const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;
const SWEEP = "oil-pressure-low-under-load on-delay 0 to 20 s by 2";

let folder: string;
let page: string;

beforeAll(async () => {
  folder = await Deno.makeTempDir();
  const place = `${folder}/trips.html`;
  const typed = ["recordings", "--report", place, "--try", SWEEP, "--health"];
  const { code, error } = await inside(rehearse, typed, EXAMPLE);
  expect(error).toBe(`The report is in ${place}\n`);
  expect(code).toBe(0);
  page = await Deno.readTextFile(place);
});
afterAll(() => Deno.remove(folder, { recursive: true }));

test("a report is one file that leads nowhere and runs nothing", () => {
  expect(page).not.toMatch(/https?:|\bsrc=|\bhref=|@import|url\(|<script|<link/);
});

test("a report tells every alarm with its sentence, its limit and its delays", () => {
  // No line ends between a number and its unit.
  expect(page).toContain("limit of 27\u00a0psi");
  const words = page.replaceAll("\u00a0", " ");
  expect(words).toContain("2026-06-14 at 10:00:00 UTC, 4 min");
  expect(words).toContain("1. Low oil pressure under load, port");
  expect(words).toContain(
    "Port oil pressure 21 psi was under its limit of 27 psi at 2,194 rpm for 3 s.",
  );
  expect(words).toContain("Grey: the on-delay of 3 s and the off-delay of 10 s.");
  expect(words).toContain("1. Shore charger in fault, shore");
  expect(words).toContain("What shore operating state read: bulk, fault.");
  expect(words).toContain("1. Engine no longer heard, starboard");
  expect(words).toContain("Everything came as expected, and nothing else.");
  expect(words).toContain(`Tried: ${SWEEP}`);
});

test("a report is the same each time it is made", async () => {
  const typed = ["recordings", "--report", `${folder}/again.html`, "--try", SWEEP, "--health"];
  await inside(rehearse, typed, EXAMPLE);
  expect(await Deno.readTextFile(`${folder}/again.html`)).toBe(page);
});

test("a report does not speak for recordings that say nothing", async () => {
  const trip = `${folder}/silent.log.gz`;
  const place = `${folder}/silent.html`;
  await Deno.copyFile(`${EXAMPLE}/recordings/key-off.log.gz`, trip);
  await inside(rehearse, ["recordings/key-off.log.gz", trip, "--report", place], EXAMPLE);
  const report = await Deno.readTextFile(place);
  expect(report.replaceAll("\u00a0", " ")).toContain(
    "Of 2 recordings 1 says what to expect: that came, and nothing else.",
  );
});

test("a report of more alarms than anybody looks at draws the first ones and says so", async () => {
  const rules = `${folder}/chatter.yaml`;
  await Deno.writeTextFile(
    rules,
    "alarms:\n  - { tag: fast, title: Fast, each: engine, high: { signal: speed, setpoint: 2200 rpm }, " +
      "priority: warning, consequence: It wears., response: { aboard: Ease it., ashore: Call. } }\n",
  );
  const place = `${folder}/chatter.html`;
  const trip = `${folder}/trip.log.gz`;
  await Deno.copyFile(`${EXAMPLE}/recordings/oil-pressure-falls.log.gz`, trip);
  await inside(rehearse, [trip, "--rules", rules, "--report", place], EXAMPLE);
  const report = await Deno.readTextFile(place);
  const alarms = report.split("<article>").length - 1;
  expect(alarms).toBeGreaterThan(60);
  expect(report).toContain(`Of these ${alarms} alarms the first 60 are drawn.`);
  // The trip's own picture is one more.
  expect(report.split("<figure>").length - 1).toBe(61);
  expect(page).not.toContain("are drawn.");
});

test("a report that cannot be written is said in one sentence", async () => {
  const reported = (place: string) =>
    inside(rehearse, ["recordings/key-off.log.gz", "--report", place], EXAMPLE);
  expect(await reported("nowhere/trips.html")).toMatchObject({
    code: 2,
    out: "",
    error: "--report: there is no folder nowhere; nothing was rehearsed.\n",
  });
  // Known only when it is written: a folder has that name.
  const { code, error } = await reported(folder);
  expect(code).toBe(2);
  expect(error).toContain(`${folder} cannot be written:`);
});

needs("chromium")("in a browser a report", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(() => browser.close());

  test.each([[320, "light"], [390, "dark"], [1280, "light"]] as const)(
    "fits a window %d wide by %s, with its plots in view",
    async (width, colorScheme) => {
      const tab = await browser.newPage({ viewport: { width, height: 800 }, colorScheme });
      const faults: string[] = [];
      tab.on("pageerror", (error) => faults.push(error.message));
      tab.on("request", (request) => {
        if (!request.url().startsWith("file:")) faults.push(request.url());
      });
      await tab.goto(`file://${folder}/trips.html`);
      const { wide, plots } = await tab.evaluate<{ wide: number; plots: number[] }>(`({
        wide: document.documentElement.scrollWidth,
        plots: [...document.querySelectorAll(".plot svg")].map((svg) =>
          svg.getBoundingClientRect().width),
      })`);
      await tab.close();
      expect(wide).toBe(width);
      expect(plots.length).toBe(8);
      for (const plot of plots) expect(plot).toBeGreaterThan(width < 600 ? 180 : 500);
      expect(faults).toEqual([]);
    },
  );
});
