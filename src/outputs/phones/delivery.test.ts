import { expect, test } from "vitest";
import type { AlarmChange } from "../../alarms/change.ts";
import { PRIORITIES } from "../../alarms/words.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { messageKey } from "./message-key.ts";
import { Delivery, type DeliveryProgress } from "./delivery.ts";
import type { PhoneMessage, SendOutcome, Way } from "./way.ts";

/** A way whose answers are given beforehand; after the last it accepts. */
class ScriptedWay implements Way {
  readonly name = "post";
  readonly sent: PhoneMessage[] = [];

  constructor(readonly outcomes: SendOutcome[] = []) {}

  send(message: PhoneMessage): Promise<SendOutcome> {
    this.sent.push(message);
    return Promise.resolve(this.outcomes.shift() ?? { kind: "accepted" });
  }
}

const later: SendOutcome = { kind: "try-again", why: "post.example answered 503" };

function boat(way: Way, store = new MemoryStore("00112233aabbccdd")) {
  const waits: Micros[] = [];
  const progress: DeliveryProgress[] = [];
  const open = (person = "ellen", wants = PRIORITIES) =>
    Delivery.open({
      store,
      person,
      wants,
      boat: "Hazel Comfort",
      way,
      words: ({ tag }, about) => `${tag} ${about}`,
      wall: () => 0,
      random: () => 1,
      wait: (length) => {
        waits.push(length);
        return Promise.resolve();
      },
      onProgress: (step) => progress.push(step),
    });
  return { store, waits, progress, open };
}

async function happen(store: MemoryStore, deliveries: Delivery[], ...changes: AlarmChange[]) {
  store.commit({ changes });
  for (const delivery of deliveries) delivery.wake();
  await flush();
}

/** Lets every promise that can settle do so. */
const flush = () => new Promise((resolve) => setTimeout(resolve));

test("raisings and returns are told in order, answers and cautions are not", async () => {
  const way = new ScriptedWay();
  const { store, open } = boat(way);
  const delivery = await open();
  await happen(
    store,
    [delivery],
    change("a", "normal", "unacknowledged"),
    { ...change("b", "normal", "acknowledged"), priority: "caution" },
    change("a", "unacknowledged", "acknowledged"),
    change("a", "acknowledged", "normal"),
  );
  expect(way.sent.map(({ text }) => text)).toEqual(["a raised", "a returned"]);
  expect(await store.mark("phone post ellen", "last")).toBe(4);
  await delivery.stop();
});

test("a failure is tried again with back-off, with the same key, before anything newer", async () => {
  const way = new ScriptedWay([later, later, { ...later, after: 60 * SECOND }]);
  const { store, open, waits, progress } = boat(way);
  const delivery = await open();
  await happen(
    store,
    [delivery],
    change("a", "normal", "unacknowledged"),
    change("b", "normal", "unacknowledged"),
  );
  expect(way.sent.map(({ text }) => text)).toEqual([
    ...["a raised", "a raised", "a raised", "a raised"],
    "b raised",
  ]);
  expect(new Set(way.sent.map(({ key }) => key)).size).toBe(2);
  expect(waits.map((wait) => wait / SECOND)).toEqual([1, 2, 60]);
  expect(progress.filter(({ number }) => number === 1).map(({ state }) => state)).toEqual([
    ...["sending", "waiting", "sending", "waiting", "sending", "waiting"],
    ...["sending", "accepted"],
  ]);
  await delivery.stop();
});

test("what is refused for good is shown, and the next message goes out", async () => {
  const way = new ScriptedWay([{ kind: "refused", why: "post.example answered 404" }]);
  const { store, open, progress } = boat(way);
  const delivery = await open();
  await happen(
    store,
    [delivery],
    change("a", "normal", "unacknowledged"),
    change("b", "normal", "unacknowledged"),
  );
  expect(progress[1]).toMatchObject({ state: "refused", why: "post.example answered 404" });
  expect(progress.at(-1)).toMatchObject({ number: 2, state: "accepted" });
  await delivery.stop();
});

test("one person's dead phone holds up nobody else", async () => {
  const stuck: Way = { name: "post", send: () => new Promise(() => {}) };
  const store = new MemoryStore("00112233aabbccdd");
  const way = new ScriptedWay();
  const ellen = await boat(stuck, store).open("ellen");
  const tom = await boat(way, store).open("tom");
  await happen(store, [ellen, tom], change("a", "normal", "unacknowledged"));
  expect(way.sent.map(({ person }) => person)).toEqual(["tom"]);
  await tom.stop();
});

test("a person who is new is not told what was before", async () => {
  const way = new ScriptedWay();
  const { store, open } = boat(way);
  store.commit({ changes: [change("old", "normal", "unacknowledged")] });
  const delivery = await open();
  await happen(store, [delivery], change("new", "normal", "unacknowledged"));
  expect(way.sent.map(({ text }) => text)).toEqual(["new raised"]);
  await delivery.stop();
});

test("what waits at a stop is told after the next start, once", async () => {
  const way = new ScriptedWay([later]);
  const store = new MemoryStore("00112233aabbccdd");
  const first = await Delivery.open({
    store,
    person: "ellen",
    wants: PRIORITIES,
    boat: "Hazel Comfort",
    way,
    words: ({ tag }) => tag,
    wall: () => 0,
    random: () => 1,
    wait: (_, cut) => new Promise((resolve) => cut.addEventListener("abort", () => resolve())),
    onProgress: () => {},
  });
  await happen(store, [first], change("a", "normal", "unacknowledged"));
  expect(way.sent).toHaveLength(1);
  await first.stop();
  const { open } = boat(way, store);
  const second = await open();
  await flush();
  await second.stop();
  const third = await open();
  await flush();
  await third.stop();
  expect(way.sent).toHaveLength(2);
  expect(way.sent[1].key).toBe(way.sent[0].key);
});

function change(tag: string, from: AlarmChange["from"], to: AlarmChange["to"]): AlarmChange {
  return {
    tag,
    subject: "aft",
    occurrence: 1,
    from,
    to,
    hold: "none",
    priority: "alarm",
    signal: "bilge/aft/float",
    value: 1,
    unit: "1",
    setpoint: null,
    time: 0,
    why: "Aft float was on for 5 s.",
    by: "",
  };
}

test("a person is told only of the priorities that they want", async () => {
  const way = new ScriptedWay();
  const { store, open } = boat(way);
  const delivery = await open("ellen", ["emergency-alarm"]);
  await happen(
    store,
    [delivery],
    change("a", "normal", "unacknowledged"),
    { ...change("b", "normal", "unacknowledged"), priority: "emergency-alarm" },
  );
  expect(way.sent.map(({ text }) => text)).toEqual(["b raised"]);
  await delivery.stop();
});

test("an emergency that could not be saved is told, says so, and is not told again once it is", async () => {
  const way = new ScriptedWay([later]);
  const { store, open } = boat(way);
  const delivery = await open();
  const emergency: AlarmChange = {
    ...change("float-on", "normal", "unacknowledged"),
    priority: "emergency-alarm",
  };
  delivery.tellUnsaved({ number: 1, change: emergency });
  delivery.tellUnsaved({ number: 1, change: emergency });
  await flush();
  const told = "float-on raised The boat's memory could not be written.";
  expect(way.sent.map(({ text }) => text)).toEqual([told, told]);
  expect(new Set(way.sent.map(({ key }) => key)).size).toBe(1);

  await happen(store, [delivery], emergency, change("b", "normal", "unacknowledged"));
  expect(way.sent.map(({ text }) => text)).toEqual([told, told, "b raised"]);
  expect(await store.mark("phone post ellen", "last")).toBe(2);
  // Were it told by number after a restart, no other message could be taken for it.
  expect(way.sent[0].key).not.toBe(messageKey("00112233aabbccdd", 1, "ellen"));
  await delivery.stop();
});
