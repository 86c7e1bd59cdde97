import type { Alarms } from "../alarms/alarms.ts";
import type { Instance } from "../alarms/compile/instance.ts";
import type { RoomLeft } from "../alarms/change.ts";
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
  /** The alarms that were looked at last, and what was seen of each; null for hidden ones. */
  #list: Alarms["list"] = [];
  #seenOf: (Seen | null)[] = [];

  /** @param now steady time @param wall the same instant as it is shown */
  look(alarms: Alarms, now: Micros, wall: Micros): void {
    if (alarms.list !== this.#list) this.#follow(alarms.list);
    for (let place = 0; place < this.#seenOf.length; place++) {
      const seen = this.#seenOf[place];
      if (seen === null) continue;
      if (!standsAsBefore(seen, alarms, place)) lookAt(seen, alarms, place);
      if (seen.reason === "") lookAtRoom(seen, alarms, place, now, wall);
    }
  }

  #follow(list: Alarms["list"]): void {
    this.#list = list;
    this.#seenOf = list.map((alarm) => {
      if (isHidden(alarm)) return null;
      const key = keyOf(alarm);
      const seen = this.#seen.get(key) ?? unseen(alarm.instance);
      this.#seen.set(key, seen);
      return seen;
    });
  }

  /** What has come together by the run's end. */
  result(alarms: Alarms): RuleFigures[] {
    this.#seenOf.forEach((seen, place) => seen !== null && lookAt(seen, alarms, place));
    const known = alarms.statuses().filter((status) => !isHidden(status));
    const withoutSubject = alarms.notWatched()
      .filter((one) => one.subject === "" && !isHidden(one));
    const emptyReasons = new Map(withoutSubject.map((one) => [keyOf(one), one.reason]));
    const empty = withoutSubject.map(({ tag, subject, title }) => ({
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
        standing: standingOf(seen),
        reason: seen?.lastReason || emptyReasons.get(key) || "",
      };
    }).sort((a, b) => compare(a.tag, b.tag) || compare(a.subject, b.subject));
  }
}

/** What was seen of one alarm. */
interface Seen {
  /** As it was looked at last. */
  instance: Instance;
  answer: number;
  /** Why it could not be judged then; empty when it could. */
  reason: string;
  judged: boolean;
  leftAlone: boolean;
  /** Its condition let it judge at some second, and what it needs was not there. */
  blind: boolean;
  /** Why it could not be judged when that was last so. */
  lastReason: string;
  least: LeastRoom | null;
}

function unseen(instance: Instance): Seen {
  return {
    instance,
    answer: NaN,
    reason: "",
    judged: false,
    leftAlone: false,
    blind: false,
    lastReason: "",
    least: null,
  };
}

/** Whether a look would say what the last one said: reasons are sentences, and cost to make. */
function standsAsBefore(seen: Seen, alarms: Alarms, place: number): boolean {
  const { instance } = alarms.list[place];
  const { kind } = instance.test;
  // These are unknown where one of many signals is; their answer does not say which.
  if (kind === "bit-pattern" || kind === "discrepancy") return false;
  return seen.instance === instance && seen.answer === alarms.answerOf(place);
}

function lookAt(seen: Seen, alarms: Alarms, place: number): void {
  const reason = alarms.reasonUnjudged(place);
  seen.instance = alarms.list[place].instance;
  seen.answer = alarms.answerOf(place);
  seen.reason = reason;
  if (reason === "") {
    seen.judged = true;
    return;
  }
  const isBlind = alarms.isWatching(place);
  if (reason === NOT_WATCHING) seen.leftAlone = true;
  else if (isBlind || !seen.blind) seen.lastReason = reason;
  if (isBlind) seen.blind = true;
}

function lookAtRoom(seen: Seen, alarms: Alarms, place: number, now: Micros, wall: Micros): void {
  const least = seen.least === null ? Infinity : seen.least.room;
  if (!(alarms.roomOf(place, now) < least)) return;
  const found = alarms.roomLeftOf(place, now);
  if (found !== null && found.room !== null) seen.least = leastOf(found, found.room, wall);
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
