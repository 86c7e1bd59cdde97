import { expect, test } from "vitest";
import { DAY, type Micros, MINUTE, parseIsoTime } from "../../ground/time.ts";
import { Diary, nextTime } from "./diary.ts";

const EIGHT = "0 8 * * *";
const ZONE = "Europe/London";
const at = (text: string) => parseIsoTime(text) ?? 0;

/** What is kept over a restart, and what was done. */
class Boat {
  now: Micros = at("2026-06-14T06:30:00Z");
  readonly facts = new Map<string, string>();
  readonly done: (Micros | undefined)[] = [];
  diary = this.#open();

  restart() {
    this.diary = this.#open();
  }

  wait(length: Micros) {
    this.now += length;
    this.diary.turn();
  }

  #open() {
    const keep = (documents: readonly { key: string; text: string | null }[]) =>
      documents.forEach(({ key, text }) => this.facts.set(key, text ?? ""));
    const entry = {
      name: "daily-line Ellen",
      cron: EIGHT,
      act: (missed: Micros | undefined, document: { key: string; text: string | null }) => {
        this.done.push(missed);
        keep([document]);
      },
    };
    const clock = { wall: () => this.now, steady: () => this.now };
    return new Diary([entry], ZONE, clock, this.facts, keep);
  }
}

test("what is due is done once", () => {
  const boat = new Boat();
  boat.wait(0);
  boat.wait(29 * MINUTE);
  expect(boat.done).toEqual([]);
  boat.wait(MINUTE);
  boat.wait(MINUTE);
  boat.restart();
  boat.wait(MINUTE);
  expect(boat.done).toEqual([undefined]);
  boat.wait(DAY);
  expect(boat.done).toEqual([undefined, undefined]);
});

test("what was due while nobody was there is done once, and said to be late", () => {
  const boat = new Boat();
  boat.wait(0);
  boat.restart();
  boat.wait(3 * DAY);
  boat.wait(MINUTE);
  expect(boat.done).toEqual([at("2026-06-14T07:00:00Z")]);
});

test("nothing is due while the computer does not know the time", () => {
  const boat = new Boat();
  boat.now = 0;
  boat.wait(10 * DAY);
  expect(boat.done).toEqual([]);
  expect(boat.facts.size).toBe(0);
});

test("a clock that was ahead puts nothing off", () => {
  const boat = new Boat();
  boat.facts.set(`last daily-line Ellen ${EIGHT}`, String(boat.now + 400 * DAY));
  boat.wait(0);
  boat.wait(30 * MINUTE);
  expect(boat.done).toEqual([undefined]);
});

test("a clock that was ahead and is set right under way puts nothing off", () => {
  const boat = new Boat();
  boat.wait(400 * DAY);
  boat.wait(-400 * DAY);
  boat.wait(30 * MINUTE);
  expect(boat.done).toEqual([undefined]);
});

test("the hour is the boat's own, on the night too when the clocks are changed", () => {
  expect(nextTime(EIGHT, at("2026-03-28T12:00:00Z"), ZONE)).toBe(at("2026-03-29T07:00:00Z"));
  expect(nextTime(EIGHT, at("2026-10-24T12:00:00Z"), ZONE)).toBe(at("2026-10-25T08:00:00Z"));
  expect(nextTime("0 10 * * 1", at("2026-06-14T12:00:00Z"), ZONE)).toBe(at("2026-06-15T09:00:00Z"));
});
