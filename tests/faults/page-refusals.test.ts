import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Answer } from "../../src/alarms/change.ts";
import type { BoatSaying } from "../../src/boat/boat-state.ts";
import { type Micros, MINUTE } from "../../src/ground/time.ts";
import { MOST_FROM_ONE, REMEMBERED } from "../../src/outputs/page/access/guess-limit.ts";
import { Passphrases } from "../../src/outputs/page/access/passphrases.ts";
import { IDLE } from "../../src/outputs/page/access/sessions.ts";
import { buildView } from "../../src/outputs/page/build-view.ts";
import { PageServer } from "../../src/outputs/page/page-server.ts";
import { HazelComfort, OIL_PRESSURE_LOW } from "../browser/hazel-comfort.ts";
import { PageVisitor } from "../support/page-visitor.ts";

const ACT = "four small tarred ropes";
const WATCH = "only to look at her";
const passphrases = await Passphrases.of({ act: ACT, watch: WATCH });

const ANSWER = { tag: OIL_PRESSURE_LOW.tag, subject: "port", occurrence: "3", do: "acknowledge" };

describe("the page of a boat, on a real socket, behind a passphrase", () => {
  let server: PageServer;
  let boat: HazelComfort;
  let url: string;
  let now: Micros;
  let answers: Answer[];
  let conditions: BoatSaying[];
  let hails: number;
  let devices: string[];

  beforeEach(async () => {
    boat = new HazelComfort();
    boat.alarms = [OIL_PRESSURE_LOW];
    now = MINUTE;
    answers = [];
    conditions = [];
    hails = 0;
    devices = [];
    const noteDevice = (device: string) => {
      devices.push(device);
      return Promise.resolve({ accepted: true } as const);
    };
    server = new PageServer({
      aboard: true,
      passphrases,
      push: {
        publicKey: "",
        people: ["Kim"],
        subscribe: (_, person) => noteDevice(person),
        unsubscribe: noteDevice,
      },
      timeZone: "UTC",
      clock: { steady: () => now, wall: () => boat.now },
      trouble: (error) => {
        throw error;
      },
    });
    server.show(boat.name, buildView(boat.sources()), {
      answer(answer) {
        answers.push(answer);
        return { accepted: true };
      },
      setCondition(condition) {
        conditions.push(condition);
        return Promise.resolve({ accepted: true });
      },
      hail() {
        hails++;
        return Promise.resolve([{ person: "Kim", way: "mail", accepted: true, why: "" }]);
      },
    });
    ({ url } = await server.start({ hostname: "127.0.0.1", port: 0 }));
  });

  afterEach(() => server.stop());

  async function signedIn(passphrase = ACT): Promise<PageVisitor> {
    const visitor = new PageVisitor(url);
    expect((await visitor.signIn(passphrase)).status).toBe(303);
    return visitor;
  }

  /** What a real socket answers, up to its end, to bytes that no browser would send. */
  async function raw(request: string, end?: RegExp): Promise<string> {
    const { hostname, port } = new URL(url);
    const connection = await Deno.connect({ hostname, port: Number(port) });
    await connection.write(new TextEncoder().encode(request));
    let reply = "";
    for await (const text of connection.readable.pipeThrough(new TextDecoderStream())) {
      reply += text;
      if (end?.test(reply)) break;
    }
    return reply;
  }

  test("nothing of the boat is shown or done without signing in", async () => {
    const stranger = new PageVisitor(url);
    const page = await stranger.get();
    expect([page.status, page.headers.get("location")]).toEqual([303, "/sign-in"]);
    for (const path of ["changes", "push", "boat/hazel-comfort/", "no-such-thing"]) {
      const reply = await stranger.get(path, { accept: "*/*" });
      expect([path, reply.status, await reply.text()]).toEqual([path, 401, "Sign in first.\n"]);
    }
    for (const path of ["answer", "condition", "hail", "push", "push/end", "sign-out"]) {
      const reply = await stranger.post(path, { ...ANSWER, condition: "aboard" });
      expect([path, reply.status]).toEqual([path, 401]);
      await reply.body?.cancel();
    }
    expect([answers, conditions, hails]).toEqual([[], [], 0]);
  });

  test("who signs in to act answers by name, says who is aboard and sends a test", async () => {
    const kim = await signedIn();
    expect((await kim.post("answer", ANSWER)).status).toBe(303);
    expect((await kim.post("condition", { condition: "anchored" })).status).toBe(303);
    expect(await (await kim.post("hail", {})).text()).toContain("Kim, by mail: sent and taken.");
    expect((await kim.post("push", { person: "Kim", subscription: "{}" })).status).toBe(200);
    expect(answers).toMatchObject([{ kind: "acknowledge", occurrence: 3, who: "Kim" }]);
    expect(devices).toEqual(["Kim"]);
    expect([conditions, hails]).toEqual([["anchored"], 1]);
  });

  test("who signs in to watch sees the boat and can change nothing", async () => {
    const guest = await signedIn(WATCH);
    const page = await guest.look();
    expect(page).toContain("Low oil pressure under load");
    expect(page).not.toContain('action="answer"');
    expect(page).not.toContain("Tell this device");
    const device = { person: "Kim", subscription: "{}", endpoint: "https://push.example/1" };
    for (const path of ["answer", "condition", "hail", "push", "push/end"]) {
      const reply = await guest.post(path, { ...ANSWER, ...device, condition: "aboard" });
      expect([path, reply.status]).toEqual([path, 403]);
      expect(await reply.text()).toContain("to act needs the other passphrase");
    }
    expect([answers, conditions, hails, devices]).toEqual([[], [], 0, []]);
  });

  test("the cookie is for this page alone and out of reach of scripts", async () => {
    const kim = await signedIn();
    expect(kim.setCookie).toMatch(/^sternfast=[\w-]{43}; /);
    expect(kim.setCookie).toContain("HttpOnly");
    expect(kim.setCookie).toContain("SameSite=Strict");
  });

  test("a cookie is worth nothing after signing out, also in a stream that is open", async () => {
    const kim = await signedIn();
    const stream = await kim.get("changes");
    const reader = stream.body!.getReader();
    await reader.read();
    const kept = kim.cookie;
    expect((await kim.post("sign-out", {})).headers.get("set-cookie")).toMatch(
      /^sternfast=; Max-Age=0/,
    );

    kim.cookie = kept;
    expect((await kim.get()).headers.get("location")).toBe("/sign-in");
    expect((await kim.post("answer", ANSWER)).status).toBe(401);
    server.publish(boat.name, buildView(boat.sources()));
    expect((await reader.read()).done).toBe(true);
    expect(answers).toEqual([]);
  });

  test("a cookie is worth nothing when it was not used for long", async () => {
    const kim = await signedIn();
    now += IDLE + 1;
    expect((await kim.get()).status).toBe(303);
  });

  test("a session of before is over once its browser signs in again", async () => {
    const kim = await signedIn();
    const before = kim.cookie;
    await kim.signIn(WATCH);
    kim.cookie = before;
    expect((await kim.get()).status).toBe(303);
  });

  test.each([
    ["another page", { origin: "https://boat.example" }],
    ["a page of this computer on another port", { origin: "http://127.0.0.1:9" }],
    ["a frame without a home", { origin: "null" }],
  ])("a form of %s is refused, although the browser sends the cookie", async (_, headers) => {
    const kim = await signedIn();
    for (const path of ["answer", "condition", "hail", "sign-out", "sign-in"]) {
      const reply = await kim.post(path, ANSWER, headers);
      expect([path, reply.status]).toEqual([path, 403]);
    }
    expect(answers).toEqual([]);
    expect((await kim.get()).status).toBe(200);
  });

  test("a form without the token of this visitor is refused", async () => {
    const [kim, robin] = [await signedIn(), await signedIn()];
    for (const token of ["", "guessed", robin.formToken]) {
      expect((await kim.post("answer", { ...ANSWER, token })).status).toBe(403);
    }
    expect(answers).toEqual([]);
  });

  test("an oversized body is not read, whether it says its length or not", async () => {
    const kim = await signedIn();
    const reply = await kim.post("answer", { ...ANSWER, why: "x".repeat(100_000) });
    expect(reply.status).toBe(413);
    const chunk = `1000\r\n${"x".repeat(0x1000)}\r\n`;
    const { host, origin } = new URL(url);
    const head = `POST /sign-in HTTP/1.1\r\nHost: ${host}\r\nOrigin: ${origin}\r\n` +
      "Content-Type: application/x-www-form-urlencoded\r\nConnection: close\r\n" +
      "Transfer-Encoding: chunked\r\n\r\n";
    // The server waits half a minute for the rest before it closes.
    const reading = raw(`${head}${chunk}${chunk}0\r\n\r\n`, /\r\n\r\n/);
    expect(await reading).toMatch(/^HTTP\/1\.1 413 /);
    expect(answers).toEqual([]);
  });

  test.each([
    "/../page-app.ts",
    "/..%2fpage-app.ts",
    "/%2e%2e/%2e%2e/etc/passwd",
    "/browser/page.css",
    "//etc/passwd",
    "/page.css/../../assets.ts",
    "/page.css%00.png",
    "/__proto__",
  ])("%s leads to no file", async (path) => {
    const { host } = new URL(url);
    const reply = await raw(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
    expect(reply).toMatch(/^HTTP\/1\.1 (400|401|404) /);
    expect(reply).not.toMatch(/import|root:/);
  });

  test.each(["Kim\r\nSet-Cookie: a=b", "Kim\nX: y", "Kim\u0000", "K".repeat(41)])(
    "the name %j, which would not stay in its line, is refused",
    async (who) => {
      const visitor = new PageVisitor(url);
      const reply = await visitor.signIn(ACT, who);
      expect(reply.status).toBe(400);
      expect(reply.headers.get("set-cookie")).toBeNull();
    },
  );

  test("a line break in an address never reaches a header", async () => {
    const kim = await signedIn();
    const reply = await kim.get("boat/x%0d%0aSet-Cookie:%20a=b/");
    expect([reply.status, reply.headers.get("set-cookie")]).toEqual([404, null]);
  });

  test("guessing is slowed down, for the right passphrase too, and only for a while", async () => {
    const thief = new PageVisitor(url);
    for (let i = 0; i < MOST_FROM_ONE; i++) {
      expect((await thief.signIn(`guess number ${i}`)).status).toBe(403);
    }
    const slowed = await thief.signIn(ACT);
    expect([slowed.status, slowed.headers.get("retry-after")]).toEqual([429, "900"]);
    expect(thief.cookie).toBe("");
    now += REMEMBERED;
    expect((await thief.signIn(ACT)).status).toBe(303);
  });

  test("many guesses at once are no way around that", async () => {
    const statuses = await Promise.all(
      Array.from(
        { length: 20 },
        async (_, i) => (await new PageVisitor(url).signIn(`guess ${i}`)).status,
      ),
    );
    expect(statuses.filter((status) => status === 403)).toHaveLength(MOST_FROM_ONE);
    expect(statuses.filter((status) => status === 429)).toHaveLength(20 - MOST_FROM_ONE);
  });
});

describe("a page without a passphrase", () => {
  test("is not shown through a proxy, behind which anybody might be", async () => {
    const boat = new HazelComfort();
    const server = new PageServer({
      aboard: true,
      timeZone: "UTC",
      clock: { steady: () => 0, wall: () => boat.now },
      trouble: () => {},
    });
    server.show(boat.name, buildView(boat.sources()), { answer: () => ({ accepted: true }) });
    const { url } = await server.start({ hostname: "127.0.0.1", port: 0 });
    const visitor = new PageVisitor(url);
    expect((await visitor.get()).status).toBe(200);
    for (
      const header of ["forwarded", "via", "x-real-ip", "x-forwarded-for", "x-forwarded-proto"]
    ) {
      const through = await visitor.get("", { [header]: "198.51.100.7" });
      expect([header, through.status, await through.text()]).toEqual([
        header,
        403,
        "This page has no passphrase, so it is for this computer only and not through a proxy.\n",
      ]);
    }
    await server.stop();
  });
});
