import { expect, onTestFinished, test, vi } from "vitest";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { MORNING, MqttBoat, RAISED, STATUS } from "../support/mqtt-boat.ts";
import { HOUR, MILLISECOND } from "../../src/ground/time.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { start } from "../support/sternfast.ts";

const waiting = { timeout: 30_000, interval: 20 };

/** `sternfast ashore` as a person starts it, beside a boat on a real mosquitto. */
test.skipIf(!hasMosquitto())(
  "the shore side keeps, shows and acknowledges what a boat says",
  async () => {
    const broker = await Mosquitto.start();
    onTestFinished(() => broker.stop());
    const folder = Deno.makeTempDirSync({ prefix: "sternfast-ashore-" });
    onTestFinished(() => Deno.removeSync(folder, { recursive: true }));
    const boat = new MqttBoat();
    const turn = () => {
      boat.now = Date.now() * MILLISECOND;
      boat.turn();
    };
    boat.now = Date.now() * MILLISECOND;
    await boat.connect(broker.url);
    onTestFinished(() => boat.vanish());
    boat.hear("engine/port/oil-pressure", 345_000);
    for (let i = 1; i <= 3; i++) boat.store.commit({ changes: [{ ...RAISED, occurrence: i }] });
    await vi.waitUntil(() => boat.connected, waiting);
    boat.outlet.alarms([STATUS]);
    boat.turn();

    const shore = await start(
      ["ashore", "--broker", broker.url, "--state", "boats", "--page", "127.0.0.1:0"],
      { folder },
    );
    const text = await shore.until(/The page of hazel-comfort is at \S+/);
    const url = /The page of hazel-comfort is at (\S+)/.exec(text)?.[1] ?? "";
    for (const word of WORDS) await boat.store.history.add([word], false);
    // Every event from before it listened is asked for, kept, and said to be safe.
    await vi.waitUntil(() => {
      turn();
      return boat.outlet.outbox.ashore === 3 && boat.outlet.history.ashore === WORDS.length;
    }, waiting);

    let page = "";
    await vi.waitUntil(async () => {
      page = await (await fetch(url)).text();
      return page.includes("Low oil pressure under load") && page.includes("345");
    }, waiting);
    expect(page).toContain("Hazel Comfort");

    const token = /data-token="([^"]+)"/.exec(page)?.[1] ?? "";
    const form = new URLSearchParams({ tag: STATUS.tag, subject: "port", occurrence: "1", token });
    const { origin } = new URL(url);
    const send = (body: URLSearchParams) =>
      fetch(`${url}answer`, {
        method: "POST",
        body,
        headers: { accept: "application/json", origin, "sec-fetch-site": "same-origin" },
      });
    expect(await (await send(form)).json()).toEqual({ accepted: true });
    form.set("do", "shelve");
    expect(await (await send(form)).json()).toEqual({ accepted: true });
    expect(boat.answers).toMatchObject([
      { kind: "acknowledge", tag: STATUS.tag, subject: "port", occurrence: 1 },
      { kind: "shelve", tag: STATUS.tag, subject: "port", occurrence: 1, length: HOUR },
    ]);

    shore.interrupt();
    expect((await shore.finished()).code).toBe(130);

    const store = await openStore(`${folder}/boats/boats/hazel-comfort`);
    onTestFinished(() => store.close());
    expect((await store.eventsAfter(0, 9)).map(({ change }) => change.occurrence)).toEqual([
      1,
      2,
      3,
    ]);
    expect(await store.history.records(WORDS[0].name, 0, minuteOf(MORNING) + 99)).toEqual(WORDS);
  },
);

/** A quarter of an hour: a full pack. */
const WORDS = Array.from({ length: 15 }, (_, i) => ({
  name: "charger/shore/operating-state",
  minute: minuteOf(MORNING) + i,
  length: 1,
  count: 40,
  word: i < 7 ? "bulk" : "float",
}));
