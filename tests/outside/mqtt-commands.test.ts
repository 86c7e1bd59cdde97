import { afterEach, beforeEach, describe, expect, onTestFinished, test, vi } from "vitest";
import { createHmac } from "node:crypto";
import { isoTime, MINUTE } from "../../src/ground/time.ts";
import { MemoryStore } from "../../src/store/memory-store.ts";
import { hasMosquitto, Mosquitto, Reader, send } from "../support/mosquitto.ts";
import { acknowledgement, BASE, MORNING, MqttBoat, RAISED } from "../support/mqtt-boat.ts";

/** Commands as `mosquitto_pub` sends them, and what becomes of them (contract §4). */
const waiting = { timeout: 10_000, interval: 5 };
const EPOCH = "00112233aabbccdd";

describe.skipIf(!hasMosquitto())("a command from ashore", () => {
  let broker: Mosquitto;
  let reader: Reader;
  let boat: MqttBoat;

  beforeEach(async () => {
    broker = await Mosquitto.start();
    reader = await Reader.start(broker.port, `${BASE}#`);
    boat = new MqttBoat(new MemoryStore(EPOCH));
  });
  afterEach(async () => {
    await reader.stop();
    await broker.stop();
  });

  async function connect(more = {}): Promise<void> {
    await boat.connect(broker.url, BASE, more);
    onTestFinished(() => boat.vanish());
    await vi.waitUntil(() => boat.connected, waiting);
  }

  const give = (name: string, fields: Record<string, unknown>, ...more: string[]) =>
    send(broker.port, `${BASE}command/${name}`, JSON.stringify(fields), ...more);
  const timed = (id: string) => ({ id, time: isoTime(MORNING, 3), epoch: EPOCH });
  const answer = async (id: string) => {
    await vi.waitUntil(() => reader.on(`${BASE}command-answer/${id}`).length > 0, waiting);
    return reader.latest(`${BASE}command-answer/${id}`);
  };
  const numbers = () => reader.on(`${BASE}event`).map(({ payload }) => JSON.parse(payload).number);

  test("brings events again that somebody misses, with their own numbers", async () => {
    await connect();
    for (let i = 0; i < 5; i++) await boat.change({ occurrence: i + 1 });
    await vi.waitUntil(() => numbers().length === 5, waiting);
    await give("resend", { ...timed("r1"), from: 2, to: 99 });
    expect(await answer("r1")).toMatchObject({ accepted: true, from: 2, to: 5 });
    await vi.waitUntil(() => numbers().length === 9, waiting);
    expect(numbers()).toEqual([1, 2, 3, 4, 5, 2, 3, 4, 5]);
    const [, second, , , , again] = reader.on(`${BASE}event`).map(({ payload }) => payload);
    expect(again).toBe(second);
    await give("resend", { ...timed("r2"), from: 6, to: 9 });
    expect(await answer("r2")).toMatchObject({ accepted: false });
  });

  test("frees the outbox of what is safe, where the broker is not ashore", async () => {
    await connect();
    for (let i = 0; i < 3; i++) await boat.change({ occurrence: i + 1 });
    await vi.waitUntil(() => numbers().length === 3, waiting);
    expect(boat.outlet.outbox.ashore).toBe(0);
    await give("received", { epoch: EPOCH, number: 2 });
    await vi.waitUntil(() => boat.outlet.outbox.ashore === 2, waiting);
    await give("received", { id: "x1", epoch: EPOCH, number: 4 });
    expect(await answer("x1")).toMatchObject({ refused: "This boat's last event is 3." });
    await give("received", { id: "x2", epoch: "another", number: 1 });
    expect(await answer("x2")).toMatchObject({ accepted: false });
  });

  test("a broker that is ashore frees the outbox by itself", async () => {
    await connect({ ashore: true });
    await boat.change({});
    await vi.waitUntil(() => boat.outlet.outbox.ashore === 1, waiting);
  });

  test("is refused, logged and answered when it is old, repeated or of another epoch", async () => {
    await connect();
    const ack = (parts: Record<string, unknown>) =>
      send(broker.port, `${BASE}command/acknowledge`, acknowledgement(parts));
    await ack({ id: "old", time: isoTime(MORNING - 11 * MINUTE, 3) });
    expect(await answer("old")).toMatchObject({ accepted: false });
    await ack({ id: "other", epoch: "another" });
    expect(await answer("other")).toMatchObject({ accepted: false });
    await ack({ id: "twice" });
    expect(await answer("twice")).toMatchObject({ accepted: true });
    await ack({ id: "twice" });
    await vi.waitUntil(() => reader.on(`${BASE}command-answer/twice`).length === 2, waiting);
    expect(reader.latest(`${BASE}command-answer/twice`)).toMatchObject({ accepted: false });
    expect(boat.notices).toHaveLength(3);
    expect(boat.answers).toHaveLength(1);
  });

  test("puts an alarm aside, takes it back, resets it, and says who is aboard", async () => {
    await connect();
    const about = { tag: RAISED.tag, subject: "port", occurrence: 1, who: "Ellen" };
    const lengths = new Map([["shelve", "2 h"], ["out-of-service", "3 d"]]);
    const kinds = ["shelve", "unshelve", "out-of-service", "return-to-service", "reset"] as const;
    for (const kind of kinds) {
      const length = lengths.get(kind);
      await give(kind, { ...timed(kind), ...about, length });
      expect(await answer(kind)).toMatchObject({ accepted: true });
    }
    await give("condition", { ...timed("c1"), condition: "anchored", who: "Ellen" });
    expect(await answer("c1")).toMatchObject({ accepted: true });
    expect(boat.answers.map(({ kind }) => kind)).toEqual(kinds);
    expect(boat.answers[0]).toMatchObject({ length: 120 * MINUTE });
    await give("condition", { ...timed("c2"), condition: "winterised", who: "Ellen" });
    expect(await answer("c2")).toMatchObject({ accepted: true });
    expect(boat.conditions).toEqual(["anchored, Ellen", "winterised, Ellen"]);
    await give("condition", { ...timed("c1"), condition: "left", who: "Ellen" });
    await vi.waitUntil(() => reader.on(`${BASE}command-answer/c1`).length === 2, waiting);
    expect(boat.notices.at(-1)).toContain('Command "condition" was refused:');
    expect(boat.conditions).toHaveLength(2);
  });

  test("a retained one waits in vain, on MQTT 5 and on 3.1.1", async () => {
    const topic = `${BASE}command/acknowledge`;
    await send(broker.port, topic, acknowledgement({ id: "kept" }), "-r");
    await connect();
    expect(await answer("kept")).toMatchObject({ accepted: false });
    await boat.vanish();
    reader.messages.length = 0;
    await connect({ broker: { url: broker.url, version: 4 } });
    expect(await answer("kept")).toMatchObject({ accepted: false });
    expect(boat.answers).toEqual([]);
  });

  test("a repeated one is known again after a restart", async () => {
    await connect();
    await send(broker.port, `${BASE}command/acknowledge`, acknowledgement({ id: "a7" }));
    await answer("a7");
    await boat.vanish();
    boat = new MqttBoat(boat.store);
    await connect();
    await send(broker.port, `${BASE}command/acknowledge`, acknowledgement({ id: "a7" }));
    await vi.waitUntil(() => reader.on(`${BASE}command-answer/a7`).length === 2, waiting);
    expect(reader.latest(`${BASE}command-answer/a7`)).toMatchObject({ accepted: false });
    expect(boat.answers).toEqual([]);
  });

  test("while the clock is unset counts only with the epoch, whatever its time", async () => {
    await connect({ clockIsSet: () => false });
    const ack = (parts: Record<string, unknown>) =>
      send(broker.port, `${BASE}command/acknowledge`, acknowledgement(parts));
    await ack({ id: "without" });
    expect(await answer("without")).toMatchObject({ accepted: false });
    await ack({ id: "with", epoch: EPOCH, time: "1999-01-01T00:00:00Z" });
    expect(await answer("with")).toMatchObject({ accepted: true });
    // Who is aboard is said of no occurrence: one that was kept from last year would be taken.
    const time = "1999-01-01T00:00:00Z";
    await give("condition", { id: "who", time, epoch: EPOCH, condition: "aboard", who: "Ellen" });
    expect(await answer("who")).toMatchObject({ accepted: false });
  });

  test("that the boat cannot carry out is answered, and the next one is taken", async () => {
    await connect({ onAnswer: () => Promise.reject(new Error("the disk is full")) });
    await send(broker.port, `${BASE}command/acknowledge`, acknowledgement({ id: "f1" }));
    expect(await answer("f1")).toMatchObject({
      accepted: false,
      refused: "The boat could not carry it out: the disk is full.",
    });
    await give("resend", { ...timed("f2"), from: 1, to: 9 });
    expect(await answer("f2")).toMatchObject({ accepted: false });
  });

  /** The HMAC as node:crypto and the text of RFC 8785 give it, not by our own function. */
  test("must be signed where the boat has a key", async () => {
    await connect({ commandKey: "oar" });
    const fields = JSON.parse(acknowledgement({ id: "s1" }));
    const sorted = Object.fromEntries(Object.entries(fields).sort());
    const text = `${BASE}command/acknowledge\n${JSON.stringify(sorted)}`;
    const hmac = createHmac("sha256", "oar").update(text).digest("hex");
    // Neither ends the program: what a stranger sends is refused before it is looked at closely.
    await send(broker.port, `${BASE}command/acknowledge`, '{"hmac":{"toString":1}}');
    const deep = `{"id":"deep","hmac":"x","a":${"[".repeat(20_000)}${"]".repeat(20_000)}}`;
    await send(broker.port, `${BASE}command/acknowledge`, deep);
    expect(await answer("deep")).toMatchObject({ accepted: false });
    await give("acknowledge", { ...fields, who: "Mallory", hmac });
    expect(await answer("s1")).toMatchObject({ accepted: false });
    reader.messages.length = 0;
    await give("acknowledge", { ...fields, hmac });
    expect(await answer("s1")).toMatchObject({ accepted: true });
    expect(boat.answers).toEqual([
      { kind: "acknowledge", tag: RAISED.tag, subject: "port", occurrence: 1, who: "Ellen" },
    ]);
  });
});
