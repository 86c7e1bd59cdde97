import { describe, expect, test } from "vitest";
import type { AlarmChange } from "../../../alarms/change.ts";
import type { AlarmStateName, Priority } from "../../../alarms/words.ts";
import { HOUR, type Micros, MINUTE, parseIsoTime, SECOND } from "../../../ground/time.ts";
import type { Notice } from "./notice.ts";
import type { Person } from "./person.ts";
import { Telling } from "./telling.ts";
import { memoryOf, remember, tellingMemorySchema } from "./telling-memory.ts";

const WANTS: Priority[] = ["emergency-alarm", "alarm", "warning"];
const ellen: Person = { name: "Ellen", wants: WANTS };
const tom: Person = { name: "Tom", wants: WANTS };
const patient = (person: Person): Person => ({ ...person, ifNoAnswer: 5 * MINUTE });
const quiet = (person: Person, ...holds: Priority[]): Person => ({
  ...person,
  quiet: { from: 22 * 60, to: 7 * 60, holds },
});

/** Noon of a summer's day in London, where the boat is. */
const NOON = parseIsoTime("2026-06-14T11:00:00Z") ?? 0;
const NIGHT = NOON + 12 * HOUR;

/** Follows what is told while time passes, and lets every message be accepted at once. */
class Story {
  telling: Telling;
  now: Micros = 0;
  readonly told: string[] = [];
  readonly notices: Notice[] = [];
  outcome: (person: string) => "accepted" | "failed" | undefined = () => "accepted";
  #number = 0;

  constructor(readonly people: readonly Person[], readonly begin: Micros = NOON) {
    this.telling = new Telling({ people, timeZone: "Europe/London" });
  }

  get moment() {
    return { steady: this.now, wall: this.begin + this.now };
  }

  change(tag: string, from: AlarmStateName, to: AlarmStateName, more: Partial<AlarmChange> = {}) {
    const change = { ...CHANGE, tag, from, to, time: this.begin + this.now, ...more };
    this.telling.take(++this.#number, change, this.moment);
    this.#look();
  }

  raise(tag: string, priority: Priority = "alarm") {
    this.change(tag, "normal", "unacknowledged", { priority });
  }

  end(tag: string, priority: Priority = "alarm") {
    this.change(tag, "unacknowledged", "returned-unacknowledged", { priority });
  }

  answer(tag: string, priority: Priority = "alarm") {
    this.change(tag, "unacknowledged", "acknowledged", { priority });
  }

  /** Lets time pass, stopping where something is due. */
  wait(length: Micros) {
    const end = this.now + length;
    while (this.telling.nextDue <= end) {
      this.now = Math.max(this.now, this.telling.nextDue);
      this.#look();
    }
    this.now = end;
  }

  restart() {
    const text = JSON.stringify(memoryOf(this.telling, this.now));
    this.telling = new Telling({ people: this.people, timeZone: "Europe/London" });
    this.now += HOUR; // Another steady clock; nobody counts the time in between.
    remember(this.telling, tellingMemorySchema.parse(JSON.parse(text)), this.now);
  }

  #look() {
    for (const notice of this.telling.notices(this.moment)) {
      const { person, items } = notice;
      this.notices.push(notice);
      this.told.push(
        `${clock(this.now)} ${person}: ${
          items.map(({ kind, change }) => `${change.tag} ${kind}`).join(", ")
        }`,
      );
      const outcome = this.outcome(person);
      const ids = items.map(({ raising }) => raising);
      if (outcome !== undefined) this.telling.settle(person, ids, outcome, this.moment);
    }
  }
}

const clock = (time: Micros) =>
  `${Math.floor(time / MINUTE)}:${String(Math.floor(time / SECOND) % 60).padStart(2, "0")}`;

describe("one message for a situation", () => {
  test("an alarm goes out at once, and its end a few seconds after it came", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "1:05 Ellen: oil over"]);
    expect(story.telling.raisings.size).toBe(0);
  });

  test("warnings that come within seconds of each other are one message", () => {
    const story = new Story([ellen]);
    story.raise("voltage", "warning");
    story.wait(2 * SECOND);
    story.raise("charger", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: voltage raised, charger raised"]);
  });

  test("what follows an alarm within seconds is one more message", () => {
    const story = new Story([ellen]);
    story.raise("float", "warning");
    story.raise("oil");
    story.wait(SECOND);
    story.raise("coolant");
    story.wait(SECOND);
    story.raise("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual([
      "0:00 Ellen: oil raised, float raised",
      "0:05 Ellen: coolant raised, voltage raised",
    ]);
  });

  test("an emergency waits for nothing", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(SECOND);
    story.raise("float", "emergency-alarm");
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "0:01 Ellen: float raised"]);
  });

  test("a warning that is over before it was told is told as what was", () => {
    const story = new Story([ellen]);
    story.raise("voltage", "warning");
    story.wait(SECOND);
    story.end("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: voltage was"]);
    expect(story.telling.raisings.size).toBe(0);
  });

  test("a higher priority of the same alarm rings anew", () => {
    const story = new Story([ellen]);
    story.raise("bilge", "warning");
    story.wait(MINUTE);
    story.change("bilge", "unacknowledged", "unacknowledged", { priority: "alarm" });
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: bilge raised", "1:00 Ellen: bilge raised"]);
  });

  test("an alarm that comes again at once is told as that, not as over", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(2 * SECOND);
    story.change("oil", "returned-unacknowledged", "unacknowledged", { occurrence: 2 });
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "1:02 Ellen: oil raised"]);
    expect([...story.telling.raisings.keys()]).toEqual(["oil/aft/2"]);
  });

  test("an alarm that was shelved and is over meanwhile is told to nobody", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.change("oil", "unacknowledged", "unacknowledged", { hold: "shelved" });
    story.change("oil", "unacknowledged", "normal", { hold: "shelved" });
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised"]);
    expect(story.telling.raisings.size).toBe(0);
  });
});

describe("a flood", () => {
  test("of warnings becomes one summary every two minutes", () => {
    const story = new Story([ellen]);
    for (let i = 1; i <= 30; i++) {
      story.raise(`warning-${i}`, "warning");
      story.wait(6 * SECOND);
    }
    story.wait(10 * MINUTE);
    expect(story.told.map((line) => line.split(", ").length)).toEqual([1, 1, 1, 1, 1, 20, 5]);
    expect(story.told.map((line) => line.split(" ")[0]).slice(4)).toEqual(["0:29", "2:29", "4:29"]);
  });

  test("holds an alarm back for half a minute at most, and an emergency not at all", () => {
    const story = new Story([ellen]);
    for (let i = 1; i <= 6; i++) {
      story.raise(`warning-${i}`, "warning");
      story.wait(6 * SECOND);
    }
    story.raise("oil");
    story.wait(10 * SECOND);
    story.raise("float", "emergency-alarm");
    expect(story.told.at(-1)).toBe("0:46 Ellen: float raised, oil raised, warning-6 raised");
    story.raise("coolant");
    story.wait(MINUTE);
    expect(story.told.at(-1)).toBe("1:16 Ellen: coolant raised");
  });
});

describe("when nobody answers", () => {
  test("the same person is told again, then the next, and then no more", () => {
    const story = new Story([patient(ellen), patient(tom)]);
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:00 Ellen: oil raised",
      "5:00 Ellen: oil again",
      "10:00 Tom: oil passed-on",
      "15:00 Tom: oil again",
    ]);
    expect(story.notices[1].isAgain).toBe(true);
    expect(story.notices[2].items[0].after).toBe("Ellen");
  });

  test.each(["answered", "shelved", "over"])("that ends when the alarm is %s", (how) => {
    const story = new Story([patient(ellen), tom]);
    story.raise("oil");
    story.wait(6 * MINUTE);
    if (how === "answered") story.answer("oil");
    if (how === "shelved") {
      story.change("oil", "unacknowledged", "unacknowledged", { hold: "shelved" });
    }
    if (how === "over") story.end("oil");
    story.wait(HOUR);
    const expected = ["0:00 Ellen: oil raised", "5:00 Ellen: oil again"];
    if (how === "over") expected.push("6:05 Ellen: oil over");
    expect(story.told).toEqual(expected);
  });

  test("people without a time are told together with the one who comes next", () => {
    const story = new Story([tom, patient(ellen), { name: "Ann", wants: WANTS }]);
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:00 Tom: oil raised",
      "0:00 Ellen: oil raised",
      "5:00 Ellen: oil again",
      "10:00 Ann: oil passed-on",
    ]);
  });

  test("a caution is told to who wants it, and nobody is asked about it", () => {
    const story = new Story([{ ...patient(ellen), wants: ["caution"] }, tom]);
    story.change("two-senders", "normal", "acknowledged", { priority: "caution" });
    story.wait(HOUR);
    story.change("two-senders", "acknowledged", "normal", { priority: "caution" });
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:05 Ellen: two-senders raised",
      "60:05 Ellen: two-senders over",
    ]);
  });

  test("a person who does not want that priority is passed over", () => {
    const story = new Story([patient(ellen), patient({ name: "Ann", wants: ["alarm"] }), tom]);
    story.raise("voltage", "warning");
    story.wait(HOUR);
    expect(story.told.at(-1)).toBe("10:05 Tom: voltage passed-on");
  });

  test("somebody who cannot be reached is not asked again, and the next is told", () => {
    const story = new Story([patient(ellen), tom]);
    story.outcome = (person) => person === "Ellen" ? undefined : "accepted";
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "5:00 Tom: oil passed-on"]);
  });

  test("where every way has refused, the next is told at once", () => {
    const story = new Story([patient(ellen), tom]);
    story.outcome = (person) => person === "Ellen" ? "failed" : "accepted";
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "0:00 Tom: oil passed-on"]);
  });

  test("a restart goes on with what was left of the time", () => {
    const story = new Story([patient(ellen), tom]);
    story.raise("oil");
    story.wait(4 * MINUTE);
    story.restart();
    story.wait(30 * SECOND);
    expect(story.told).toHaveLength(1);
    story.wait(30 * SECOND);
    expect(story.told[1]).toBe("65:00 Ellen: oil again");
  });
});

describe("quiet hours", () => {
  test("hold back a warning, and tell it in the morning if it still stands", () => {
    const story = new Story([quiet(ellen, "warning")], NIGHT);
    story.raise("voltage", "warning");
    story.raise("oil");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "420:00 Ellen: voltage raised"]);
  });

  test("tell in the morning what was and is over, unless somebody has answered it", () => {
    const story = new Story([quiet(ellen, "warning")], NIGHT);
    story.raise("voltage", "warning");
    story.raise("charger", "warning");
    story.wait(HOUR);
    story.end("voltage", "warning");
    story.answer("charger", "warning");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["420:00 Ellen: voltage was"]);
  });

  test("hold back what the owner says, even an alarm", () => {
    const story = new Story([quiet(ellen, "warning", "alarm")], NIGHT);
    story.raise("oil");
    story.raise("float", "emergency-alarm");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["0:00 Ellen: float raised", "420:00 Ellen: oil raised"]);
  });

  test("let nobody be asked next: the time begins when the person is told", () => {
    const story = new Story([quiet(patient(ellen), "warning"), tom], NIGHT);
    story.raise("voltage", "warning");
    story.wait(10 * HOUR);
    expect(story.told).toEqual([
      "420:00 Ellen: voltage raised",
      "425:00 Ellen: voltage again",
      "430:00 Tom: voltage passed-on",
    ]);
  });

  test("hold nothing back while the computer does not know the time", () => {
    const story = new Story([quiet(ellen, "warning")], 0);
    story.raise("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toHaveLength(1);
  });
});

describe("a message on its way", () => {
  test("that is accepted after the alarm is over is followed by its end", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(MINUTE);
    expect(story.told).toHaveLength(1);
    story.telling.settle("Ellen", ["oil/aft/1"], "accepted", story.moment);
    story.wait(MINUTE);
    expect(story.told[1]).toBe("2:05 Ellen: oil over");
  });

  test("says who has answered meanwhile", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    expect(story.telling.meanwhile(["oil/aft/1"])).toEqual({ was: [], answeredBy: "" });
    story.change("oil", "unacknowledged", "acknowledged", { by: "Tom" });
    expect(story.telling.meanwhile(["oil/aft/1"])).toEqual({ was: [], answeredBy: "Tom" });
  });

  test("that could only say what was needs no end", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    story.end("oil");
    expect(story.telling.meanwhile(["oil/aft/1"]).was).toMatchObject([{ kind: "was" }]);
    story.telling.settle("Ellen", ["oil/aft/1"], "accepted-as-was", story.moment);
    story.wait(HOUR);
    expect(story.told).toHaveLength(1);
    expect(story.telling.raisings.size).toBe(0);
  });
});

test("an emergency that was told before it was saved is not told again", () => {
  const story = new Story([ellen]);
  const change: AlarmChange = {
    ...CHANGE,
    tag: "float",
    to: "unacknowledged",
    priority: "emergency-alarm",
  };
  story.telling.take(1, change, story.moment, false);
  expect(story.telling.notices(story.moment)[0].items[0].isUnsaved).toBe(true);
  story.telling.take(1, change, story.moment);
  expect(story.telling.notices(story.moment)).toEqual([]);
});

const CHANGE: AlarmChange = {
  tag: "oil",
  subject: "aft",
  occurrence: 1,
  from: "normal",
  to: "normal",
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
