import { describe, expect, test } from "vitest";
import { highWater } from "../../../tests/support/high-water.ts";
import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { clockOf, NOON, ServedWay, ToldBoat, WANTS } from "../../../tests/support/told-boat.ts";
import { VirtualTime } from "../../../tests/support/virtual-time.ts";
import { messageKey } from "./delivery/message-key.ts";
import type { PhoneMessage } from "./way.ts";

const EPOCH = "00112233aabbccdd";

function boatOf(...names: string[]) {
  const time = new VirtualTime(NOON);
  const ways = names.map(() => new ServedWay("post", time));
  const people = names.map((name, i) => ({ name, wants: WANTS, ways: [ways[i]] }));
  return { time, ways, boat: new ToldBoat(people, { time }) };
}

const lines = (way: ServedWay) =>
  way.taken.map(({ at, message }) =>
    `${clockOf(at)} ${message.text.split(" ").slice(2, 5).join(" ")}`
  );

describe("what is told", () => {
  test("is told to everybody when it was saved, and when it is over", async () => {
    const { time, ways: [ellen, tom], boat } = boatOf("Ellen", "Tom");
    await boat.open();
    await boat.raise("oil");
    await time.pass(MINUTE);
    await boat.end("oil");
    await time.pass(MINUTE);
    expect(lines(ellen)).toEqual(["0:00 ALARM: oil, since", "1:05 ALARM over at"]);
    expect(lines(tom)).toEqual(lines(ellen));
    expect(ellen.taken[0].message).toMatchObject({
      key: messageKey(EPOCH, "1 raised", "Ellen"),
      about: "raised",
      priority: "alarm",
      signal: "bilge/aft/float",
      time: NOON,
    });
    await boat.phones?.stop();
  });

  test("before somebody was named in the settings is not told to them", async () => {
    const { time, ways: [ellen], boat } = boatOf("Ellen");
    await boat.raise("old");
    await boat.open();
    await boat.raise("new");
    await time.pass(HOUR);
    expect(lines(ellen)).toEqual(["0:00 ALARM: new, since"]);
    await boat.phones?.stop();
  });

  test("waits for no other person, and for no other message", async () => {
    const { time, ways: [ellen, tom], boat } = boatOf("Ellen", "Tom");
    let isStuck = true;
    ellen.behaviour = () => ({ outcome: { kind: "accepted" }, after: isStuck ? HOUR : 0 });
    await boat.open();
    await boat.raise("oil");
    isStuck = false;
    await time.pass(10 * SECOND);
    await boat.raise("coolant");
    expect(lines(tom)).toHaveLength(2);
    expect(lines(ellen)).toEqual(["0:10 ALARM: coolant, since"]);
    await boat.phones?.stop();
  });

  test("as an emergency is tried at once where the way asked to be left alone for an hour", async () => {
    const { ways: [ellen], time, boat } = boatOf("Ellen");
    ellen.behaviour = (_, now) => ({
      outcome: now === 0 ? { kind: "try-again", why: "429", after: HOUR } : { kind: "accepted" },
    });
    await boat.open();
    await boat.raise("oil");
    await time.pass(10 * SECOND);
    await boat.raise("float", "emergency-alarm");
    await time.pass(MINUTE);
    expect(lines(ellen)).toEqual(["0:10 EMERGENCY ALARM: float,"]);
    await boat.phones?.stop();
  });

  test("is shown at every step", async () => {
    const { ways: [ellen], time, boat } = boatOf("Ellen");
    ellen.behaviour = (_, now) => ({
      outcome: now === 0 ? { kind: "try-again", why: "down" } : { kind: "accepted" },
    });
    await boat.open();
    await boat.raise("oil");
    await time.pass(MINUTE);
    expect(boat.steps.map(({ state, way, tried, why }) => ({ state, way, tried, why }))).toEqual([
      { state: "queued", way: "", tried: 0, why: "" },
      { state: "sent", way: "post", tried: 1, why: "" },
      { state: "queued", way: "", tried: 1, why: "down" },
      { state: "sent", way: "post", tried: 2, why: "down" },
      { state: "accepted", way: "post", tried: 2, why: "" },
    ]);
    await boat.phones?.stop();
  });
});

test("a program that is killed every few minutes comes to ask again all the same", async () => {
  const store = new MemoryStore(EPOCH);
  const told: string[] = [];
  for (let life = 0; life < 4; life++) {
    // A kill: the earlier program's time stands still for ever.
    const time = new VirtualTime(NOON + life * 2 * MINUTE);
    const way = new ServedWay("post", time);
    const person = { name: "Ellen", wants: WANTS, ifNoAnswer: 5 * MINUTE, ways: [way] };
    const boat = new ToldBoat([person], { time, store });
    await boat.open();
    if (life === 0) await boat.raise("oil");
    await time.pass(2 * MINUTE);
    told.push(...way.taken.map(({ message }) => `life ${life}: ${message.text}`));
  }
  expect(told).toEqual([
    "life 0: Hazel Comfort, ALARM: oil, since 12:00.",
    "life 2: Hazel Comfort, ALARM, not yet answered: oil, since 12:00.",
  ]);
});

describe("an emergency that could not be saved", () => {
  const emergency = highWater({ tag: "float-on", time: NOON });

  test("is told, says so, and is not told again once it is", async () => {
    const { time, ways: [ellen], boat } = boatOf("Ellen");
    await boat.open();
    boat.phones?.tellUnsaved([{ number: 1, change: emergency }]);
    boat.phones?.tellUnsaved([{ number: 1, change: emergency }]);
    await time.pass(MINUTE);
    await boat.store.commit({ changes: [emergency] }).saved;
    boat.phones?.wake();
    await time.pass(MINUTE);
    expect(ellen.taken.map(({ message }) => message.text)).toEqual([
      "Hazel Comfort, EMERGENCY ALARM: Aft float was on for 5 s, since 12:00. " +
      "The boat's computer could not save this.",
    ]);
    // Were it told by number after a restart, no other message could be taken for it.
    expect(ellen.taken[0].message.key).not.toBe(messageKey(EPOCH, "1 raised", "Ellen"));
    await boat.phones?.stop();
  });

  test("is asked about no more once it is answered, and is over once", async () => {
    const { time, ways: [ellen] } = boatOf("Ellen");
    const person = { name: "Ellen", wants: WANTS, ifNoAnswer: 5 * MINUTE, ways: [ellen] };
    const boat = new ToldBoat([person], { time });
    await boat.open();
    const answered = { ...emergency, from: emergency.to, to: "acknowledged", by: "Tom" } as const;
    const over = { ...emergency, from: "acknowledged", to: "normal", time: NOON + HOUR } as const;
    boat.phones?.tellUnsaved([{ number: 1, change: emergency }]);
    await time.pass(MINUTE);
    boat.phones?.tellUnsaved([{ number: 2, change: answered }]);
    await time.pass(HOUR);
    boat.phones?.tellUnsaved([{ number: 3, change: over }]);
    await time.pass(MINUTE);
    await boat.store.commit({ changes: [emergency, answered, over] }).saved;
    boat.phones?.wake();
    await time.pass(MINUTE);
    expect(ellen.taken.map(({ message }) => message.about)).toEqual(["raised", "returned"]);
    expect(ellen.taken[1].message.text).not.toContain("not answered");
    await boat.phones?.stop();
  });

  test("is told within two seconds more where the message cannot be saved", async () => {
    const { time, ways: [ellen] } = boatOf("Ellen");
    class HungStore extends MemoryStore {
      override commit(...turn: Parameters<MemoryStore["commit"]>) {
        return { ...super.commit(...turn), saved: new Promise<void>(() => {}) };
      }
    }
    const store = new HungStore(EPOCH);
    const boat = new ToldBoat([{ name: "Ellen", wants: WANTS, ways: [ellen] }], { time, store });
    await boat.open();
    store.commit({ changes: [emergency] });
    boat.phones?.wake();
    await time.pass(2 * SECOND);
    expect(ellen.taken).toHaveLength(1);
    await boat.phones?.stop();
  });
});

test("a message that is said beside alarms is kept with what belongs to it, and told once", async () => {
  const { time, ways: [ellen], boat } = boatOf("Ellen");
  await boat.open();
  const message: PhoneMessage = {
    key: "k".repeat(32),
    person: "Ellen",
    boat: "Hazel Comfort",
    priority: "caution",
    about: "daily-line",
    text: "All well.",
    signal: "",
    answers: [],
    time: NOON,
  };
  boat.phones?.say(message, [{ kind: "fact", key: "last", text: "1" }]);
  await time.pass(MINUTE);
  await boat.phones?.stop();
  await boat.open();
  await time.pass(MINUTE);
  expect(ellen.taken.map(({ message: { text } }) => text)).toEqual(["All well."]);
  expect((await boat.store.documents("fact")).get("last")).toBe("1");
  await boat.phones?.stop();
});
