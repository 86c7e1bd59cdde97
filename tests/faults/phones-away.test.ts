import fc from "fast-check";
import { expect, test } from "vitest";
import { HOUR, MINUTE, SECOND } from "../../src/ground/time.ts";
import type { Person } from "../../src/outputs/phones/telling/person.ts";
import { type Behaviour, clockOf, NOON, ServedWay, ToldBoat, WANTS } from "../support/told-boat.ts";
import { VirtualTime } from "../support/virtual-time.ts";

const ellen: Person = { name: "Ellen", wants: WANTS };

/** What services do to a boat, for an hour. */
const DOWN: Readonly<Record<string, Behaviour>> = {
  "cannot be reached": () => ({
    outcome: { kind: "try-again", why: "push.example cannot be reached" },
  }),
  "is slow": () => ({
    outcome: { kind: "try-again", why: "push.example took too long to answer" },
    after: 15 * SECOND,
  }),
  "answers 5xx": () => ({ outcome: { kind: "try-again", why: "push.example answered 503" } }),
  "answers 4xx": () => ({ outcome: { kind: "refused", why: "push.example answered 404" } }),
  "answers 429 with Retry-After": () => ({
    outcome: { kind: "try-again", why: "push.example answered 429", after: 10 * MINUTE },
  }),
};

/** An hour with an alarm in each ten minutes, each over after four; answered by nobody. */
async function hour(boat: ToldBoat): Promise<string[]> {
  const tags = Array.from({ length: 6 }, (_, i) => `alarm-${i + 1}`);
  for (const tag of tags) {
    await boat.raise(tag);
    await boat.time.pass(4 * MINUTE);
    await boat.end(tag);
    await boat.time.pass(6 * MINUTE);
  }
  return tags;
}

/** Which messages say that an alarm was raised; one that was over by then says so. */
const tellsOf = (way: ServedWay, tag: string) =>
  way.taken.filter(({ message: { text, about } }) =>
    about === "raised" && new RegExp(`\\b${tag}\\b`).test(text)
  );

for (const [how, behaviour] of Object.entries(DOWN)) {
  test(`while the only way ${how} for an hour, all is told after it, once, or shown as failed`, async () => {
    const time = new VirtualTime(NOON);
    const way = new ServedWay(
      "post",
      time,
      (message, now) => now < HOUR ? behaviour(message, now) : { outcome: { kind: "accepted" } },
    );
    const boat = new ToldBoat([{ ...ellen, ways: [way] }], { time });
    await boat.open();
    const tags = await hour(boat);
    await time.pass(HOUR);
    const standing = boat.phones?.standing() ?? [];
    for (const tag of tags) {
      const told = tellsOf(way, tag).length;
      const failed = standing.filter(({ state, text }) =>
        state === "failed" && text.includes(`ALARM: ${tag},`)
      );
      expect(told + failed.length, tag).toBe(1);
    }
    expect(standing.every(({ state }) => state === "accepted" || state === "failed")).toBe(true);
    // A service that is down is not hammered: less than one try a minute for each message.
    expect(way.asked).toBeLessThan(6 * 60);
    await boat.phones?.stop();
  });

  test(`while the first way ${how}, the second one tells, at once and once`, async () => {
    const time = new VirtualTime(NOON);
    const bad = new ServedWay("post", time, behaviour);
    const good = new ServedWay("post-2", time);
    const boat = new ToldBoat([{ ...ellen, ways: [bad, good] }], { time });
    await boat.open();
    const tags = await hour(boat);
    for (const tag of tags) expect(tellsOf(good, tag), tag).toHaveLength(1);
    // Nothing waits for the way that is down longer than it takes to find that out.
    const begins = tags.map((_, i) => i * 10 * MINUTE);
    tags.forEach((tag, i) =>
      expect(tellsOf(good, tag)[0].at - begins[i]).toBeLessThanOrEqual(15 * SECOND)
    );
    expect(bad.taken).toEqual([]);
    await boat.phones?.stop();
  });

  test(`while one person's only way ${how}, the next person is told`, async () => {
    const time = new VirtualTime(NOON);
    const bad = new ServedWay("post", time, behaviour);
    const good = new ServedWay("post", time);
    const boat = new ToldBoat([
      { ...ellen, ifNoAnswer: 2 * MINUTE, ways: [bad] },
      { name: "Tom", wants: WANTS, ways: [good] },
    ], { time });
    await boat.open();
    const tags = await hour(boat);
    for (const tag of tags) expect(tellsOf(good, tag), tag).toHaveLength(1);
    expect(tellsOf(good, tags[0])[0].at).toBeLessThanOrEqual(2 * MINUTE + 15 * SECOND);
    expect(good.taken[0].message.text).toContain("Ellen has not answered");
    await boat.phones?.stop();
  });
}

test("what could not be sent for a while says when it was due, or what was and is over", async () => {
  const time = new VirtualTime(NOON);
  const way = new ServedWay("post", time, (_, now) => ({
    outcome: now < HOUR ? { kind: "try-again", why: "down" } : { kind: "accepted" },
  }));
  const boat = new ToldBoat([{ ...ellen, ways: [way] }], { time });
  await boat.open();
  await boat.raise("stands");
  await boat.raise("passes", "warning");
  await time.pass(10 * MINUTE);
  await boat.end("passes", "warning");
  await time.pass(2 * HOUR);
  expect(way.taken.map(({ message }) => message.text).toSorted()).toEqual([
    "Hazel Comfort, WARNING over: bilge aft float, from 12:00 to 12:10. passes.",
    "Was due at 12:00 and could not be sent until now: " +
    "Hazel Comfort, ALARM: stands, since 12:00.",
  ]);
  await boat.phones?.stop();
});

test("whatever the services answer, nobody is told twice but by asking on, and nothing is lost", async () => {
  const kinds = ["accepted", "accepted", "later", "soon", "refused", "slow"] as const;
  const story = fc.array(
    fc.record({ gap: fc.integer({ min: 0, max: 400 }), isOver: fc.boolean() }),
    { minLength: 1, maxLength: 12 },
  );
  const answers = fc.array(fc.constantFrom(...kinds), { minLength: 1, maxLength: 30 });
  await fc.assert(
    fc.asyncProperty(story, answers, async (alarms, given) => {
      const time = new VirtualTime(NOON);
      let asked = 0;
      const behaviour: Behaviour = () => BEHAVIOURS[given[asked++ % given.length]]();
      const ways = [0, 1, 2].map((i) => new ServedWay(`post-${i}`, time, behaviour));
      const boat = new ToldBoat([
        { ...ellen, ifNoAnswer: 3 * MINUTE, ways: ways.slice(0, 2) },
        { name: "Tom", wants: WANTS, ways: ways.slice(2) },
      ], { time });
      await boat.open();
      for (const [i, { gap, isOver }] of alarms.entries()) {
        await boat.raise(`alarm-${i}-`);
        await time.pass(gap * SECOND);
        if (isOver) await boat.end(`alarm-${i}-`);
      }
      const isOpen = () =>
        boat.phones?.standing().some(({ state }) => state === "queued" || state === "sent");
      for (let hours = 0; hours < 1 || hours < 26 && isOpen(); hours++) await time.pass(HOUR);
      expect(isOpen()).toBe(false);
      const taken = ways.flatMap((way) => way.taken.map(({ message }) => message));
      expect(new Set(taken.map(({ key }) => key)).size).toBe(taken.length);
      const news = taken.map((
        { person, text },
      ) => [person, /Comfort, ALARM: (\S+),/.exec(text)?.[1] ?? ""]).filter(([, tag]) => tag !== "")
        .map((words) => words.join(" "));
      expect(new Set(news).size).toBe(news.length);
      await boat.phones?.stop();
    }),
    { numRuns: 8 },
  );
});

const BEHAVIOURS = {
  accepted: () => ({ outcome: { kind: "accepted" } }),
  later: () => ({ outcome: { kind: "try-again", why: "answered 503" } }),
  soon: () => ({ outcome: { kind: "try-again", why: "answered 429", after: 5 * MINUTE } }),
  refused: () => ({ outcome: { kind: "refused", why: "answered 404" } }),
  slow: () => ({ outcome: { kind: "try-again", why: "took too long" }, after: 15 * SECOND }),
} as const satisfies Record<string, () => ReturnType<Behaviour>>;

test("a service that loses its answers is asked again with the same key only", async () => {
  const time = new VirtualTime(NOON);
  const keys: string[] = [];
  const way = new ServedWay("post", time, ({ key }) => {
    keys.push(key);
    return {
      outcome: keys.length < 4 ? { kind: "try-again", why: "cut off" } : { kind: "accepted" },
    };
  });
  const boat = new ToldBoat([{ ...ellen, ways: [way] }], { time });
  await boat.open();
  await boat.raise("oil");
  await time.pass(MINUTE);
  expect(keys).toHaveLength(4);
  expect(new Set(keys).size).toBe(1);
  await boat.phones?.stop();
});

test("a day without any way is a message that has failed for good", async () => {
  const time = new VirtualTime(NOON);
  const way = new ServedWay("post", time, DOWN["answers 5xx"]);
  const boat = new ToldBoat([{ ...ellen, ways: [way] }], { time });
  await boat.open();
  await boat.raise("oil");
  await time.pass(25 * HOUR);
  expect(boat.phones?.standing()).toMatchObject([{
    state: "failed",
    why: "a day of trying did not help: push.example answered 503",
  }]);
  await boat.phones?.stop();
});

test("what waits at a stop is told after the next start, by the same key, and once", async () => {
  const time = new VirtualTime(NOON);
  const way = new ServedWay("post", time, DOWN["answers 5xx"]);
  const boat = new ToldBoat([{ ...ellen, ifNoAnswer: 5 * MINUTE, ways: [way] }], { time });
  await boat.open();
  await boat.raise("oil");
  const [{ key }] = boat.phones?.standing() ?? [];
  await boat.phones?.stop();

  way.behaviour = () => ({ outcome: { kind: "accepted" } });
  await boat.open();
  await time.pass(MINUTE);
  await boat.phones?.stop();
  await boat.open();
  await time.pass(HOUR);
  expect(way.taken.map(({ at, message }) => `${clockOf(at)} ${message.text}`)).toEqual([
    "0:00 Hazel Comfort, ALARM: oil, since 12:00.",
    "5:00 Hazel Comfort, ALARM, not yet answered: oil, since 12:00.",
  ]);
  expect(way.taken[0].message.key).toBe(key);
  await boat.phones?.stop();
});
