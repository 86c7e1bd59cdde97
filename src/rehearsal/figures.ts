import type { Alarms } from "../alarms/alarms.ts";
import type { Instance } from "../alarms/compile/instance.ts";
import type { AlarmChange, RoomLeft } from "../alarms/change.ts";
import type { Priority } from "../alarms/words.ts";
import { NOT_WATCHING } from "../alarms/not-judged.ts";
import type { Micros } from "../ground/time.ts";
import { isHidden } from "./hidden-rules.ts";
import type { LeastRoom, RuleFigures } from "./run-record.ts";

/**
 * Adds up, second by second, how near each rule came to its limit and whether it could be judged. A
 * season has millions of seconds, so nothing is made for a rule that stands as it stood.
 */
export class Figures {
  readonly #seen = new Map<string, Seen>();
  #list: Alarms["list"] = [];
  #ties = -1;
  /** Places of the alarms that are looked at, and what was seen of each. */
  #places = new Int32Array(0);
  #seenOf: Seen[] = [];
  /** By alarm: the answer at which it was looked at last. */
  #answers = new Uint8Array(0);
  /** By alarm: `Standing` at that answer. */
  #standings = new Uint8Array(0);

  /** @param now steady time, which is run time */
  look(alarms: Alarms, now: Micros): void {
    this.#follow(alarms);
    for (let k = 0; k < this.#places.length; k++) {
      const place = this.#places[k];
      if (alarms.answerOf(place) !== this.#answers[k]) this.#lookAt(k, alarms);
      if (this.#standings[k] === Standing.hasRoom) {
        lookAtRoom(this.#seenOf[k], alarms, place, now);
      }
    }
  }

  /**
   * An alarm was raised: it has reached its limit, if only between two looks, or where no frame came
   * that made for one.
   */
  noticeRaised({ tag, subject, time, value, setpoint, unit, signal }: AlarmChange): void {
    const seen = this.#seen.get(keyOf({ tag, subject }));
    // What never had room is of a kind, or about a signal, that has none.
    if (seen === undefined || seen.least === null || seen.least.room <= 0) return;
    if (typeof value === "number" && setpoint !== null) {
      const room = value === setpoint ? 0 : -LITTLE;
      seen.least = { room, at: time, signal, value, setpoint, unit };
    } else {
      // What is not heard has no value: its age has grown to the delay.
      seen.least = { ...seen.least, room: 0, at: time, value: seen.least.setpoint };
    }
  }

  /** Where there are other alarms than before, or one of them is tied to more signals. */
  #follow(alarms: Alarms): void {
    const { list, ties } = alarms;
    if (list === this.#list && ties === this.#ties) return;
    this.#list = list;
    this.#ties = ties;
    this.#places = Int32Array.from(list.keys()).filter((place) => !isHidden(list[place]));
    this.#seenOf = [...this.#places].map((place) => this.#seenAs(keyOf(list[place])));
    this.#answers = new Uint8Array(this.#places.length).fill(NOT_LOOKED);
    this.#standings = new Uint8Array(this.#places.length);
  }

  #seenAs(key: string): Seen {
    const seen = this.#seen.get(key) ?? { ...UNSEEN };
    this.#seen.set(key, seen);
    return seen;
  }

  #lookAt(k: number, alarms: Alarms): void {
    const place = this.#places[k];
    const { test } = alarms.list[place].instance;
    const isJudged = noticeReason(this.#seenOf[k], alarms, place);
    this.#standings[k] = isJudged && !STATES.has(test.kind) ? Standing.hasRoom : Standing.hasNone;
    // Where one of many signals is unknown, the answer does not say which.
    this.#answers[k] = isOfMany(test) ? NOT_LOOKED : alarms.answerOf(place);
  }

  /** What has come together by the run's end. */
  result(alarms: Alarms): RuleFigures[] {
    this.#follow(alarms);
    for (const k of this.#places.keys()) this.#lookAt(k, alarms);
    const known = alarms.statuses().filter((status) => !isHidden(status));
    const knownKeys = new Set(known.map(keyOf));
    const withoutAlarm = alarms.notWatched()
      .filter((one) => !knownKeys.has(keyOf(one)) && !isHidden(one));
    const told = new Set(alarms.unjudged().map(keyOf));
    const emptyReasons = new Map(withoutAlarm.map((one) => [keyOf(one), one.reason]));
    const empty = withoutAlarm.map(({ tag, subject, title }) => ({
      tag,
      subject,
      title,
      priority: EMPTY,
    }));
    return [...known, ...empty].map(({ tag, subject, title, priority }): RuleFigures => {
      const key = keyOf({ tag, subject });
      const seen = this.#seen.get(key);
      return {
        tag,
        subject,
        title,
        priority,
        least: seen?.least ?? null,
        standing: emptyReasons.has(key) && !told.has(key) ? "for-nothing" : standingOf(seen),
        reason: seen?.reason || emptyReasons.get(key) || "",
      };
    }).sort((a, b) => compare(a.tag, b.tag) || compare(a.subject, b.subject));
  }
}

const enum Standing {
  /** It is not judged now, or its kind has no room. */
  hasNone = 0,
  hasRoom = 1,
}

/** Room beyond a limit, where only that it is beyond is known: whatever is looked at is less. */
const LITTLE = 1e-9;

/** No answer of an alarm. */
const NOT_LOOKED = 254;

type Test = Instance["test"];
const STATES: ReadonlySet<Test["kind"]> = new Set([
  "reads",
  "bit-pattern",
  "discrepancy",
  "unjudged",
]);

function isOfMany(test: Test): boolean {
  return test.kind === "discrepancy" || test.kind === "bit-pattern" && test.signals.length > 1;
}

/** What was seen of one alarm. */
interface Seen {
  judged: boolean;
  leftAlone: boolean;
  /** Its condition let it judge at some second, and what it needs was not there. */
  blind: boolean;
  /** Why it could not be judged when that was last so. */
  reason: string;
  least: LeastRoom | null;
}

const UNSEEN: Seen = { judged: false, leftAlone: false, blind: false, reason: "", least: null };

/** True when it is judged now. */
function noticeReason(seen: Seen, alarms: Alarms, place: number): boolean {
  const reason = alarms.reasonUnjudged(place);
  if (reason === "") {
    seen.judged = true;
    return true;
  }
  const isBlind = alarms.isWatching(place);
  if (reason === NOT_WATCHING) seen.leftAlone = true;
  else if (isBlind || !seen.blind) seen.reason = reason;
  if (isBlind) seen.blind = true;
  return false;
}

function lookAtRoom(seen: Seen, alarms: Alarms, place: number, now: Micros): void {
  const least = seen.least === null ? Infinity : seen.least.room;
  if (!(alarms.roomOf(place, now) < least)) return;
  const found = alarms.roomLeftOf(place, now);
  if (found !== null && found.room !== null) seen.least = leastOf(found, found.room, now);
}

function leastOf(found: RoomLeft, room: number, at: Micros): LeastRoom {
  const { signal, value, setpoint, unit } = found;
  return { room, at, signal, value, setpoint, unit };
}

function standingOf(seen: Seen | undefined): RuleFigures["standing"] {
  if (seen?.judged) return "judged";
  return seen?.leftAlone && !seen.blind ? "not-watching" : "no-data";
}

/** A rule without subjects never rings. */
const EMPTY: Priority = "caution";

function keyOf({ tag, subject }: { readonly tag: string; readonly subject: string }): string {
  return `${tag}/${subject}`;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
