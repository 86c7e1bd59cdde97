import type { AlarmChange } from "../../src/alarms/change.ts";
import type { AlarmStateName, Priority } from "../../src/alarms/words.ts";
import { HOUR, type Micros, MINUTE, parseIsoTime, SECOND } from "../../src/ground/time.ts";
import type { Notice } from "../../src/outputs/phones/telling/notice.ts";
import type { Person } from "../../src/outputs/phones/telling/person.ts";
import { Telling } from "../../src/outputs/phones/telling/telling.ts";
import {
  memoryOf,
  remember,
  tellingMemorySchema,
} from "../../src/outputs/phones/telling/telling-memory.ts";

export const WANTS: Priority[] = ["emergency-alarm", "alarm", "warning"];
export const ellen: Person = { name: "Ellen", wants: WANTS };
export const tom: Person = { name: "Tom", wants: WANTS };
export const patient = (person: Person): Person => ({ ...person, ifNoAnswer: 5 * MINUTE });
export const quiet = (person: Person, ...holds: Priority[]): Person => ({
  ...person,
  quiet: { from: 22 * 60, to: 7 * 60, holds },
});

/** Noon of a summer's day in London, where the boat is. */
export const NOON = parseIsoTime("2026-06-14T11:00:00Z") ?? 0;
export const NIGHT = NOON + 12 * HOUR;

/** Follows what is told while time passes, and lets every message be accepted at once. */
export class Story {
  telling: Telling;
  now: Micros = 0;
  readonly told: string[] = [];
  readonly notices: Notice[] = [];
  /** Tags of rules that are taken out. */
  readonly gone = new Set<string>();
  outcome: (person: string) => "accepted" | "failed" | undefined = () => "accepted";
  #number = 0;

  constructor(readonly people: readonly Person[], readonly begin: Micros = NOON) {
    this.telling = this.#newTelling();
  }

  #newTelling(): Telling {
    const isGone = ({ tag }: AlarmChange) => this.gone.has(tag);
    return new Telling({ people: this.people, timeZone: "Europe/London", isGone });
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
    this.telling = this.#newTelling();
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

export const CHANGE: AlarmChange = {
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
