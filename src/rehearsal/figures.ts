import type { Alarms } from "../alarms/alarms.ts";
import type { Priority } from "../alarms/words.ts";
import { NOT_WATCHING } from "../alarms/not-judged.ts";
import type { Micros } from "../ground/time.ts";
import { isHidden } from "./hidden-rules.ts";
import type { LeastRoom, RuleFigures } from "./run-record.ts";

/** Adds up, second by second, how near each rule came to its limit and whether it could be judged. */
export class Figures {
  readonly #seen = new Map<string, Seen>();

  /** @param now steady time @param wall the same instant as it is shown */
  look(alarms: Alarms, now: Micros, wall: Micros): void {
    for (const one of alarms.judgedNow(now, isOwners)) {
      const seen = this.#seenOf(keyOf(one));
      if (one.reason === "") seen.judged = true;
      else if (one.reason === NOT_WATCHING) seen.leftAlone = true;
      else if (one.watching || !seen.blind) seen.reason = one.reason;
      if (one.reason !== "" && one.watching) seen.blind = true;
      if (one.room === null || one.room.room === null) continue;
      if (seen.least !== null && seen.least.room <= one.room.room) continue;
      const { room, signal, value, setpoint, unit } = one.room;
      seen.least = { room, at: wall, signal, value, setpoint, unit };
    }
  }

  #seenOf(key: string): Seen {
    const known = this.#seen.get(key);
    if (known !== undefined) return known;
    const fresh = { judged: false, leftAlone: false, blind: false, reason: "", least: null };
    this.#seen.set(key, fresh);
    return fresh;
  }

  /** What has come together by the run's end. */
  result(alarms: Alarms): RuleFigures[] {
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
        reason: seen?.reason || emptyReasons.get(key) || "",
      };
    }).sort((a, b) => compare(a.tag, b.tag) || compare(a.subject, b.subject));
  }
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

function standingOf(seen: Seen | undefined): RuleFigures["standing"] {
  if (seen?.judged) return "judged";
  return seen?.leftAlone && !seen.blind ? "not-watching" : "no-data";
}

function isOwners(rule: { readonly tag: string }): boolean {
  return !isHidden(rule);
}

/** A rule without subjects never rings. */
const EMPTY: Priority = "caution";

function keyOf({ tag, subject }: { readonly tag: string; readonly subject: string }): string {
  return `${tag}/${subject}`;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
