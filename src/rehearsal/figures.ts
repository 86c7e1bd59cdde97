import type { Alarms } from "../alarms/alarms.ts";
import type { Priority } from "../alarms/words.ts";
import { NOT_WATCHING } from "../alarms/not-judged.ts";
import type { Micros } from "../ground/time.ts";
import { isHidden } from "./hidden-rules.ts";
import type { LeastRoom, RuleFigures } from "./run-record.ts";

/** Adds up, second by second, how near each rule came to its limit and whether it could be judged. */
export class Figures {
  readonly #least = new Map<string, LeastRoom>();
  readonly #judged = new Set<string>();
  readonly #leftAlone = new Set<string>();
  /** Its condition let it judge at some second, and what it needs was not there. */
  readonly #blind = new Set<string>();
  /** Why a rule could not be judged when that was last so. */
  readonly #reasons = new Map<string, string>();

  /** @param now steady time @param wall the same instant as it is shown */
  look(alarms: Alarms, now: Micros, wall: Micros): void {
    for (const one of alarms.roomLeft(now)) {
      if (one.room === null || isHidden(one)) continue;
      const key = keyOf(one);
      const least = this.#least.get(key);
      if (least !== undefined && least.room <= one.room) continue;
      const { room, signal, value, setpoint, unit } = one;
      this.#least.set(key, { room, at: wall, signal, value, setpoint, unit });
    }
    for (const one of alarms.standings()) {
      if (isHidden(one)) continue;
      const key = keyOf(one);
      if (one.reason === "") this.#judged.add(key);
      else if (one.reason === NOT_WATCHING) this.#leftAlone.add(key);
      else if (one.watching || !this.#blind.has(key)) this.#reasons.set(key, one.reason);
      if (one.reason !== "" && one.watching) this.#blind.add(key);
    }
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
      return {
        tag,
        subject,
        title,
        priority,
        least: this.#least.get(key) ?? null,
        standing: this.#standingOf(key),
        reason: this.#reasons.get(key) ?? emptyReasons.get(key) ?? "",
      };
    }).sort((a, b) => compare(a.tag, b.tag) || compare(a.subject, b.subject));
  }

  #standingOf(key: string): RuleFigures["standing"] {
    if (this.#judged.has(key)) return "judged";
    return this.#leftAlone.has(key) && !this.#blind.has(key) ? "not-watching" : "no-data";
  }
}

/** A rule without subjects never rings. */
const EMPTY: Priority = "caution";

function keyOf({ tag, subject }: { readonly tag: string; readonly subject: string }): string {
  return `${tag}/${subject}`;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
