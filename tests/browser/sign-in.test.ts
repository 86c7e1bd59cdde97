/// <reference lib="dom" />
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import type { Answer } from "../../src/alarms/change.ts";
import type { BoatSaying } from "../../src/boat/boat-state.ts";
import { Passphrases } from "../../src/outputs/page/access/passphrases.ts";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { Certificates } from "../support/certificates.ts";
import { needs } from "../support/needs.ts";
import { BOAT_HOST, SharedPage, startBrowser } from "./browser.ts";
import { HazelComfort, OIL_PRESSURE_LOW } from "./hazel-comfort.ts";

const ACT = "four small tarred ropes";
const WATCH = "only to look at her";

needs("chromium")("a page that asks who is there, in a browser", () => {
  let browser: Browser;
  let server: PageServer;
  let boat: HazelComfort;
  let answers: { answer: Answer; isAfar: boolean }[];
  let conditions: BoatSaying[];
  let passphrases: Passphrases;
  let shared: SharedPage;
  const opened: Page[] = [];

  beforeAll(async () => {
    browser = await startBrowser();
    shared = await SharedPage.open(browser);
    passphrases = await Passphrases.of({ act: ACT, watch: WATCH });
  });
  afterAll(() => browser.close());

  beforeEach(() => {
    boat = new HazelComfort();
    boat.alarms = [OIL_PRESSURE_LOW];
    answers = [];
    conditions = [];
  });

  afterEach(async () => {
    for (const page of opened.splice(0)) await page.context().close();
    await shared.clean();
    await server.stop();
  });

  /** The address under which a phone on the boat's network would ask. */
  async function serve(certificate?: { cert: string; key: string }): Promise<string> {
    server = new PageServer({
      aboard: true,
      passphrases,
      certificate,
      timeZone: "Europe/London",
      clock: { steady: () => boat.now, wall: () => boat.now },
      trouble: (error) => {
        throw error;
      },
    });
    server.show(boat.name, buildView(boat.sources()), {
      answer(answer, isAfar) {
        answers.push({ answer, isAfar });
        boat.alarms = [{ ...OIL_PRESSURE_LOW, state: "acknowledged" }];
        server.publish(boat.name, buildView(boat.sources()));
        return { accepted: true };
      },
      setCondition(condition) {
        conditions.push(condition);
        return Promise.resolve({ accepted: true });
      },
      hail: () =>
        Promise.resolve([
          { person: "Robin", way: "push", accepted: true, why: "" },
          { person: "Kim", way: "mail", accepted: false, why: "mail.example did not answer" },
        ]),
    });
    const { url } = await server.start({ hostname: "0.0.0.0", port: 0 });
    return url.replace("0.0.0.0", BOAT_HOST);
  }

  async function open(url: string): Promise<Page> {
    await shared.page.goto(url);
    return shared.page;
  }

  async function openAnother(url: string, options: BrowserContextOptions): Promise<Page> {
    const context = await browser.newContext(options);
    const page = await context.newPage();
    opened.push(page);
    await page.goto(url);
    return page;
  }

  async function signIn(page: Page, passphrase: string): Promise<void> {
    await page.getByLabel("Your name").fill("Kim");
    await page.getByLabel("Passphrase").fill(passphrase);
    await page.getByRole("button", { name: "Sign in" }).click();
  }

  test.each([true, false])(
    "lets a person in, answer by name and leave again (scripts: %s)",
    async (javaScriptEnabled) => {
      const url = await serve();
      const page = await (javaScriptEnabled ? open(url) : openAnother(url, { javaScriptEnabled }));
      expect(page.url()).toBe(`${url}sign-in`);
      await signIn(page, "four small tarred rope");
      await page.getByText("That is not the passphrase.").waitFor();
      await signIn(page, ACT);
      await page.getByRole("heading", { name: "Hazel Comfort" }).waitFor();

      await page.getByRole("button", { name: /^I have it/ }).click();
      await page.getByText("Alarm, answered", { exact: true }).waitFor();
      expect(answers).toMatchObject([{ answer: { who: "Kim", why: "I have it" }, isAfar: false }]);

      await page.getByText("Somebody is aboard. Change").click();
      await page.getByRole("button", { name: "At anchor" }).click();
      await page.getByText(javaScriptEnabled ? "Answered." : "Hazel Comfort").first().waitFor();
      await page.getByRole("button", { name: "Send everybody a test" }).click();
      await page.getByText("Kim, by mail: not taken, because mail.example did not answer")
        .waitFor();
      expect(conditions).toEqual(["anchored"]);

      await page.goto(url);
      await page.getByRole("button", { name: "Sign out" }).click();
      await page.getByRole("heading", { name: "Sign in" }).waitFor();
      await page.goto(url);
      expect(page.url()).toBe(`${url}sign-in`);
    },
  );

  test("shows a guest everything and no button that would change it", async () => {
    const page = await open(await serve());
    await signIn(page, WATCH);
    await page.getByText("Signed in as Kim, to watch only").waitFor();
    await page.getByRole("article", { name: "Low oil pressure under load" }).waitFor();
    expect(await page.getByRole("button", { name: /I have it|Change|Send everybody/ }).count())
      .toBe(0);
    expect(await page.getByText("Change").count()).toBe(0);
  });

  test("says why a device cannot be told from a page without a certificate", async () => {
    const page = await open(await serve());
    await signIn(page, ACT);
    await page.locator("#push-words", {
      hasText:
        "This device cannot be told of alarms from here: browsers allow that only to a page " +
        "with a certificate that they trust.",
    }).waitFor();
    expect(await page.locator("#push-form").isVisible()).toBe(false);
  });

  test("speaks TLS with the owner's certificate, and then its cookie goes nowhere else", async () => {
    const folder = await Deno.makeTempDir({ prefix: "sternfast-page-" });
    const certificates = new Certificates(folder);
    certificates.sign(BOAT_HOST, `subjectAltName=DNS:${BOAT_HOST}`);
    const { certificate, key } = certificates.of(BOAT_HOST);
    const url = await serve({ cert: certificate, key });
    expect(url).toMatch(/^https:/);
    const page = await openAnother(url, { ignoreHTTPSErrors: true });
    await signIn(page, ACT);
    await page.getByRole("heading", { name: "Hazel Comfort" }).waitFor();
    const [cookie] = await page.context().cookies();
    expect(cookie).toMatchObject({
      ...{ name: "__Host-sternfast", secure: true, httpOnly: true, sameSite: "Strict", path: "/" },
    });
    await Deno.remove(folder, { recursive: true });
  });

  test("fits a small phone, signed in or not", async () => {
    const url = await serve();
    await shared.page.setViewportSize({ width: 320, height: 640 });
    const page = await open(url);
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
    expect(await wide()).toBeLessThanOrEqual(320);
    await signIn(page, ACT);
    await page.getByText("More").first().click();
    expect(await wide()).toBeLessThanOrEqual(320);
  });
});
