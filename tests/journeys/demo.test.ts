import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { Reader, send } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { type Running, start } from "../support/sternfast.ts";

const BASE = "sternfast/hazel-comfort/";
const ALARM = "alarm/oil-pressure-low-under-load/port";

const waiting = { timeout: 45_000, interval: 20 };

/** One command, and a boat is watched: `mosquitto_sub` reads along on the demo's own broker. */
needs("mosquitto")("the demo, begun shortly before its alarm", () => {
  let demo: Running;
  let reader: Reader;
  let port: number;
  let page: string;

  beforeEach(async () => {
    demo = await start(["demo", "--from", "54 s"]);
    const text = await demo.until(/The page is at \S+/);
    port = Number(/mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(text)?.[1]);
    page = /The page is at (\S+)/.exec(text)?.[1] ?? "";
    reader = await Reader.start(port, `${BASE}#`);
  });
  afterEach(async () => {
    demo.interrupt("SIGKILL");
    await demo.finished();
    await reader.stop();
  });

  const state = () => field(ALARM, "state");
  const field = (topic: string, name: string) => {
    const payload = reader.latest(BASE + topic);
    return typeof payload === "object" && payload !== null
      ? Object.entries(payload).find(([key]) => key === name)?.[1]
      : undefined;
  };
  const raised = () => vi.waitUntil(() => state() === "unacknowledged", waiting);
  const pageText = async () => await (await fetch(page)).text();

  test("says values, raises its alarm for the right reason, and is answered over MQTT", async () => {
    await raised();
    expect(field("link", "state")).toBe("connected");
    expect(field("engine/port/speed", "unit")).toBe("1/min");
    expect(field("engine/port/oil-pressure", "quality")).toBe("good");
    expect(field("battery/house/voltage", "value")).toBeGreaterThan(12);
    await vi.waitUntil(() => reader.on(`${BASE}event`).length > 0, waiting);
    const events = reader.on(`${BASE}event`);
    expect(events.length).toBe(1);
    expect(events[0].payload).toMatch(
      /"why":"Port oil pressure \d+ psi was under its limit of \d+ psi at [\d,]+ rpm for 3 s\."/,
    );
    expect(await demo.until(/UTC {2}ALARM: /)).toContain(
      "ALARM: Low oil pressure under load, port.",
    );
    expect(await pageText()).toContain("Low oil pressure under load");

    const answer = JSON.stringify({
      id: "ours-1",
      time: new Date().toISOString(),
      tag: "oil-pressure-low-under-load",
      subject: "port",
      occurrence: 1,
      who: "Ellen",
    });
    await send(port, `${BASE}command/acknowledge`, answer);
    await vi.waitUntil(() => state() === "acknowledged", waiting);
    await vi.waitUntil(() => reader.on(`${BASE}event`).length > 1, waiting);
    expect(reader.on(`${BASE}event`)[1].payload).toContain('"by":"Ellen"');
    await vi.waitUntil(() => reader.latest(`${BASE}command-answer/ours-1`) !== undefined, waiting);
    expect(reader.latest(`${BASE}command-answer/ours-1`)).toMatchObject({ accepted: true });
    await demo.until(/Answered by Ellen: Low oil pressure under load/);
  });

  test("is answered on its page", async () => {
    await raised();
    await vi.waitUntil(async () => (await pageText()).includes("not yet answered"), waiting);
    const token = /data-token="([^"]+)"/.exec(await pageText())?.[1] ?? "";
    const response = await fetch(new URL("/answer", page), {
      method: "POST",
      headers: { "Origin": new URL(page).origin },
      body: new URLSearchParams({
        tag: "oil-pressure-low-under-load",
        subject: "port",
        occurrence: "1",
        token,
      }),
    });
    expect(new URL(response.url).pathname).toBe("/");
    expect(await response.text()).not.toContain("not yet answered");
    await vi.waitUntil(() => state() === "acknowledged", waiting);
  });

  test("says on a clean stop that it has stopped, and that nothing is heard any more", async () => {
    await vi.waitUntil(() => field("link", "state") === "connected", waiting);
    demo.interrupt();
    expect((await demo.finished()).code).toBe(130);
    await vi.waitUntil(() => field("link", "state") === "stopped", waiting);
    expect(field("engine/port/speed", "quality")).toBe("bad");
  });
});
