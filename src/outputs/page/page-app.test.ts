import { describe, expect, test } from "vitest";
import type { Answer, AnswerOutcome, RoomLeft } from "../../alarms/change.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { SECOND } from "../../ground/time.ts";
import { Door } from "./access/door.ts";
import { readAssets } from "./assets.ts";
import type { BoatView } from "./boat-view.ts";
import { buildView, type ViewSources } from "./build-view.ts";
import { Feed, type PageMessage } from "./feed.ts";
import { pageApp } from "./page-app.ts";

const OURS = "127.0.0.1:8080";
const ASSETS = await readAssets();

function view(more: Partial<ViewSources> = {}): BoatView {
  return buildView({
    boat: "hazel-comfort",
    timeZone: "UTC",
    demo: false,
    owners: {},
    table: new SignalTable(),
    alarms: [],
    rooms: [],
    watch: { onWatch: 3, unjudged: [] },
    now: 100 * SECOND,
    lastFrame: 99 * SECOND,
    wallOf: (steady) => steady,
    ...more,
  });
}

function served(outcome: AnswerOutcome = { accepted: true }) {
  const answers: { answer: Answer; isAfar: boolean }[] = [];
  const troubles: Error[] = [];
  const feed = new Feed(view());
  let secrets = 0;
  const app = pageApp({
    boats: new Map([["hazel-comfort", {
      feed,
      actions: {
        answer: (answer, isAfar) => {
          answers.push({ answer, isAfar });
          return outcome;
        },
      },
    }]]),
    aboard: true,
    assets: ASSETS,
    names: () => new Set([OURS]),
    door: new Door({
      passphrases: undefined,
      secure: false,
      now: () => 0,
      newSecret: () => `secret-${++secrets}`,
    }),
    timeZone: "UTC",
    wall: () => 0,
    trouble: (error) => troubles.push(error),
  });
  const get = (path: string, host = OURS) => app.request(path, { headers: { host } }, HERE);
  const post = (body: string, headers: Record<string, string> = {}, from = HERE) =>
    app.request("/answer", {
      method: "POST",
      body: `${body}&token=secret-1`,
      headers: {
        host: OURS,
        origin: `http://${OURS}`,
        "content-type": "application/x-www-form-urlencoded",
        ...headers,
      },
    }, from);
  return { answers, troubles, feed, app, get, post };
}

const HERE = { remote: "127.0.0.1" };
const ANSWER = "tag=low-oil&subject=port&occurrence=3";

describe("the page", () => {
  test("is whole without a script", async () => {
    const text = await (await served().get("/")).text();
    expect(text).toContain("<h1>Hazel Comfort</h1>");
    expect(text).toContain("No alarms. 3 rules are on watch.");
    expect(text).toContain("Nothing here senses vapour.");
  });

  test("gives the room left as data, with the least of the hour and day", async () => {
    const rooms: RoomLeft[] = [{
      ...{ tag: "low-volts", subject: "house", title: "Low volts", priority: "warning" },
      ...{ signal: "battery/house/voltage", kind: "reading", value: 12.9, setpoint: 12.2 },
      ...{ unit: "V", side: "low", room: 0.35000000000000003, reason: "", hour: 0.1, day: null },
    }];
    const { feed, get } = served();
    feed.publish(view({ rooms }));
    expect(await (await get("/room-left")).json()).toEqual({
      time: "1970-01-01T00:01:40.000Z",
      rooms: [{
        ...{ tag: "low-volts", subject: "house", signal: "battery/house/voltage" },
        ...{ value: 12.9, unit: "V", setpoint: 12.2, side: "low" },
        ...{ room: 0.35, hour: 0.1, day: null, reason: "" },
      }],
    });
    feed.publish(view({ rooms: undefined }));
    expect((await get("/room-left")).status).toBe(404);
  });

  test("links nothing from outside and holds neither script nor style of its own", async () => {
    const text = await (await served().get("/")).text();
    expect(
      [...text.matchAll(/(?:src|href|action)="([^"]*)"/g)].every(([, to]) => to.startsWith("/")),
    )
      .toBe(true);
    expect(text).not.toMatch(/<style|style=|<script>|\son[a-z]+=/);
  });

  test("allows nothing from elsewhere, no frame and no sniffing", async () => {
    const { headers } = await served().get("/");
    expect(headers.get("content-security-policy")).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; " +
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    );
    expect(headers.get("x-content-type-options")).toBe("nosniff");
    expect(headers.get("x-frame-options")).toBe("DENY");
    expect(headers.get("cache-control")).toBe("no-store");
  });

  test("has its files and nothing else", async () => {
    const { get } = served();
    expect((await get("/page.css")).headers.get("content-type")).toContain("text/css");
    expect((await get("/page.js")).headers.get("content-type")).toContain("text/javascript");
    for (const path of ["/..%2fassets.ts", "/assets.ts", "/browser/page.css", "/constructor"]) {
      expect((await get(path)).status, path).toBe(404);
    }
  });

  test("answers only to its own name", async () => {
    const { get } = served();
    for (const host of ["boat.example.org:8080", "127.0.0.1", ""]) {
      const refused = await get("/", host);
      expect(refused.status, host).toBe(421);
      expect(await refused.text()).toContain(OURS);
    }
  });
});

describe("an answer", () => {
  test("reaches the alarms with its occurrence", async () => {
    const { post, answers } = served();
    const reply = await post(ANSWER, { accept: "application/json" });
    expect(await reply.json()).toEqual({ accepted: true });
    const answer = {
      ...{ kind: "acknowledge", tag: "low-oil", subject: "port", occurrence: 3, who: "the page" },
    };
    expect(answers).toEqual([{ answer, isAfar: false }]);
  });

  test.each([
    ["another network", {}, { remote: "198.51.100.7" }, true],
    ["the boat's own network", {}, { remote: "192.168.1.20" }, false],
  ])("from %s is known as that", async (_, headers, from, isAfar) => {
    const { post, answers } = served();
    await post(ANSWER, headers, from);
    expect(answers).toMatchObject([{ isAfar }]);
  });

  test("of a plain form leads back to the page", async () => {
    const reply = await served().post(ANSWER);
    expect([reply.status, reply.headers.get("location")]).toEqual([303, "./"]);
  });

  test("that was refused says why, to a script and to a person", async () => {
    const { post } = served({ accepted: false, refused: "That was <occurrence> 2; it is over." });
    const scripted = await post(ANSWER, { accept: "application/json" });
    expect([scripted.status, await scripted.json()]).toEqual([
      409,
      { accepted: false, refused: "That was <occurrence> 2; it is over." },
    ]);
    expect(await (await post(ANSWER)).text()).toContain(
      "That was &lt;occurrence&gt; 2; it is over.",
    );
  });

  test.each([
    ["another page", { origin: "http://boat.example.org" }],
    ["another port", { origin: "http://127.0.0.1:9000" }],
    ["a file or a frame without a home", { origin: "null" }],
    ["nowhere", { origin: "" }],
  ])("from %s is refused", async (_, headers) => {
    const { post, answers } = served();
    expect((await post(ANSWER, headers)).status).toBe(403);
    expect(answers).toEqual([]);
  });

  test.each([
    "",
    "tag=low-oil&subject=port",
    "tag=low-oil&subject=port&occurrence=-1",
    "tag=low-oil&subject=port&occurrence=1.5",
    "tag=low-oil&subject=port&occurrence=all",
    "tag=&subject=port&occurrence=1",
  ])("that is none (%j) changes nothing", async (body) => {
    const { post, answers } = served();
    expect((await post(body)).status).toBe(400);
    expect(answers).toEqual([]);
  });

  test("in a form that cannot be read changes nothing and is no trouble of ours", async () => {
    const { post, answers, troubles } = served();
    const reply = await post("--", { "content-type": "multipart/form-data; boundary=none" });
    expect([reply.status, answers, troubles]).toEqual([403, [], []]);
  });

  test("that is too long is not read", async () => {
    const { post, answers } = served();
    expect((await post(`${ANSWER}&more=${"x".repeat(5000)}`)).status).toBe(413);
    expect(answers).toEqual([]);
  });
});

describe("the stream of changes", () => {
  test("begins with the whole page, then sends only what changed, then ends with the feed", async () => {
    const { feed, get } = served();
    const response = await get("/changes");
    expect(response.headers.get("content-type")).toContain("text/event-stream");
    const read = messages(response);

    const whole = await read();
    expect(Object.keys(whole?.replaced ?? {})).toEqual(["main"]);
    feed.publish(view({ watch: { onWatch: 4, unjudged: [] } }));
    const change = await read();
    expect(Object.keys(change?.replaced ?? {})).toEqual(["summary"]);
    expect(change?.replaced.summary).toContain("4 rules are on watch");
    feed.close();
    expect(await read()).toBeUndefined();
  });

  test("skips states for a browser that is slow, and catches up in one message", async () => {
    const { feed, get } = served();
    const read = messages(await get("/changes"));
    await read();
    for (let rules = 4; rules < 500; rules++) {
      feed.publish(view({ watch: { onWatch: rules, unjudged: [] } }));
    }
    const change = await read();
    expect(change?.replaced.summary).toContain("499 rules are on watch");
    feed.close();
    expect(await read()).toBeUndefined();
  });
});

/** Reads one message after another; undefined at the end. */
function messages(response: Response): () => Promise<PageMessage | undefined> {
  const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
  let text = "";
  return async () => {
    for (;;) {
      const end = text.indexOf("\n\n");
      if (end >= 0) {
        const event = text.slice(0, end);
        text = text.slice(end + 2);
        return JSON.parse(event.split("\n").find((line) => line.startsWith("data: "))!.slice(6));
      }
      const { value, done } = await reader.read();
      if (done) return undefined;
      text += value;
    }
  };
}
