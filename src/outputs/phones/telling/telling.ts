import type { AlarmChange } from "../../../alarms/change.ts";
import { PRIORITIES } from "../../../alarms/words.ts";
import { type Micros, MINUTE } from "../../../ground/time.ts";
import { toldAs } from "../told-change.ts";
import { GATHERED, type Haste, Inbox, type Waiting } from "./inbox.ts";
import { type Moment, type Notice, type NoticeItem, type RaisingId, raisingId } from "./notice.ts";
import { type Person, stepsOf } from "./person.ts";
import { holds, quietFor } from "./quiet-hours.ts";
import { type Raising, raisingOf } from "./raising.ts";

/** A clock that is set, or changed in the night, is noticed within this time. */
const LOOK_EVERY: Micros = 15 * MINUTE;
/** A rule that was taken out may come back: a file that was moved, and is put where it was. */
const LOOK_FOR_RULE_EVERY: Micros = MINUTE;

export interface TellingSetup {
  /** In the order in which they are asked. */
  readonly people: readonly Person[];
  /** IANA name of the boat's time zone. */
  readonly timeZone: string;
  /** Whether the rule that raised an alarm is taken out; left out where none can be. */
  readonly isGone?: (change: AlarmChange) => boolean;
}

/** What has happened while a message waited. */
export interface Meanwhile {
  /** All that it tells of is over: what it says now; else empty. */
  readonly was: readonly NoticeItem[];
  /** Who has answered all of it; else empty. */
  readonly answeredBy: string;
}

/**
 * Who is told of what, and when: steps of people, quiet hours, gathering, floods, and who is asked
 * next when nobody answers. Pure: it is given changes and the time, and keeps plain data.
 *
 *     changes, answers ─▶ raisings ─▶ a person's inbox ─▶ notices
 *                            ▲ what became of each message
 *
 * Order of calls: `take` for each change, in order; then `notices` at once, and again when
 * `nextDue` is reached; `settle` when a message was accepted or given up.
 */
export class Telling {
  readonly raisings = new Map<RaisingId, Raising>();
  readonly inboxes: ReadonlyMap<string, Inbox>;

  constructor(readonly setup: TellingSetup) {
    this.inboxes = new Map(setup.people.map(({ name }) => [name, new Inbox()]));
  }

  /** Steady time; Infinity when nothing waits. */
  get nextDue(): Micros {
    let due = Infinity;
    for (const inbox of this.inboxes.values()) due = Math.min(due, inbox.due);
    for (const raising of this.raisings.values()) due = Math.min(due, raising.due);
    return due;
  }

  /**
   * One change of an alarm.
   * @param isSaved false for what the disk has not taken in time; it comes again when it is saved
   */
  take(number: number, change: AlarmChange, { steady }: Moment, isSaved = true): void {
    const known = this.raisings.get(raisingId(change));
    if (known?.number === number) {
      if (isSaved) known.isUnsaved = false;
      return;
    }
    const about = toldAs(change);
    if (about === "raised") this.#raise(number, change, steady, isSaved);
    else if (known !== undefined) {
      if (about === "returned") {
        // What was told before it was saved comes again.
        if (known.over?.time !== change.time) this.#end(known, change, steady);
      } else if (change.hold !== "none" || change.to === "acknowledged" || change.by !== "") {
        // Also once it is over: whoever has not been told yet need not be.
        this.#answer(known, change.by);
      }
      // Over under a hold: nobody is told of that.
      if (about === null && change.to === "normal") known.over ??= change;
    }
    this.#forget();
  }

  /** The messages that are due: one a person at most. */
  notices(now: Moment): Notice[] {
    for (const raising of this.raisings.values()) {
      if (raising.due <= now.steady) this.#askOnUnlessGone(raising, now.steady);
      this.#passHeld(raising, now);
    }
    const notices = this.setup.people.map((person) => this.#noticeTo(person, now));
    this.#forget();
    return notices.filter((notice) => notice !== undefined);
  }

  /**
   * What became of a message. `accepted-as-was`: it said that the alarm is over already.
   * @param raisings those that it told of
   */
  settle(
    person: string,
    raisings: readonly RaisingId[],
    outcome: "accepted" | "accepted-as-was" | "failed",
    { steady }: Moment,
  ): void {
    for (const id of raisings) {
      const raising = this.raisings.get(id);
      if (raising?.told.get(person) !== "on-its-way") continue;
      if (outcome === "accepted-as-was") raising.told.delete(person);
      else raising.told.set(person, outcome);
      if (outcome === "accepted" && raising.over !== undefined) {
        this.#put(person, { raising: id, kind: "over", after: "" }, "soon", steady);
      }
      const isAwaited = this.#stepOf(raising)?.awaited?.name === person;
      if (outcome === "failed" && isAwaited && raising.answeredBy === null) raising.due = steady;
    }
    this.#forget();
  }

  /** How what a message tells of stands by now: the message may have waited. */
  meanwhile(raisings: readonly RaisingId[]): Meanwhile {
    const known = raisings.map((id) => this.raisings.get(id)).filter((one) => one !== undefined);
    const was = known.map((raising) => wasOf(raising)).filter((item) => item !== undefined);
    const [answered] = known;
    const areAllAnswered = known.every(({ answeredBy }) => answeredBy !== null);
    return {
      was: was.length === raisings.length ? was : [],
      answeredBy: areAllAnswered ? answered?.answeredBy ?? "" : "",
    };
  }

  /** Before the end: what is only being gathered is told now. */
  hurry(now: Micros): void {
    for (const inbox of this.inboxes.values()) {
      if (inbox.due - now <= GATHERED) inbox.due = now;
    }
  }

  #raise(number: number, change: AlarmChange, now: Micros, isSaved: boolean): void {
    const id = raisingId(change);
    const known = this.raisings.get(id);
    const raising = raisingOf(id, number, change);
    raising.isUnsaved = !isSaved;
    // It rings anew; who was told of it before is told when it is over all the same.
    for (const [person, how] of known?.told ?? []) raising.told.set(person, how);
    this.raisings.set(id, raising);
    this.#dropEarlier(raising);
    this.#tellStep(raising, "raised", "", now);
  }

  /** That an earlier raising of the same alarm is over says nothing while it is there again. */
  #dropEarlier({ id, change: { tag, subject } }: Raising): void {
    const earlier = [...this.raisings.values()].filter((other) =>
      other.id !== id && other.change.tag === tag && other.change.subject === subject
    );
    const ids = new Set(earlier.map((other) => other.id));
    for (const inbox of this.inboxes.values()) inbox.drop(ids);
    for (const other of earlier) {
      other.over ??= other.change;
      other.due = Infinity;
    }
  }

  #end(raising: Raising, change: AlarmChange, now: Micros): void {
    raising.over = change;
    raising.due = Infinity;
    for (const [person, how] of raising.told) {
      if (how !== "accepted") continue;
      this.#put(person, { raising: raising.id, kind: "over", after: "" }, "soon", now);
    }
  }

  #answer(raising: Raising, by: string): void {
    raising.answeredBy ??= by;
    raising.due = Infinity;
  }

  /** What nobody can answer any more is asked of nobody, unless its rule comes back. */
  #askOnUnlessGone(raising: Raising, now: Micros): void {
    if (this.setup.isGone?.(raising.change) === true) raising.due = now + LOOK_FOR_RULE_EVERY;
    else this.#askOn(raising, now);
  }

  /** Nobody has answered: the same person again, then the people of the next step. */
  #askOn(raising: Raising, now: Micros): void {
    raising.due = Infinity;
    const awaited = this.#stepOf(raising)?.awaited;
    if (awaited === undefined) return;
    // To somebody who was not reached the first time there is no second.
    if (!raising.isAgain && raising.told.get(awaited.name) === "accepted") {
      raising.isAgain = true;
      const item: Waiting = { raising: raising.id, kind: "again", after: "" };
      this.#put(awaited.name, item, hasteOf(raising, "again"), now);
      return;
    }
    raising.step++;
    raising.isAgain = false;
    this.#tellStep(raising, "passed-on", awaited.name, now);
  }

  /**
   * An alarm does not wait for a morning: where all who are asked now are asleep to it, those are
   * told who come next and are not. In the morning the others are told all the same.
   */
  #passHeld(raising: Raising, { steady, wall }: Moment): void {
    const { id, change: { priority }, over, answeredBy, due } = raising;
    if (priority !== "alarm" && priority !== "emergency-alarm") return;
    if (over !== undefined || answeredBy !== null || due < Infinity) return;
    const { people, timeZone } = this.setup;
    const isHeld = (person: Person) => holds(person, priority, wall, timeZone);
    const waits = ({ name }: Person) =>
      this.inboxes.get(name)?.waiting.some(({ raising }) => raising === id) ?? false;
    const steps = stepsOf(people, priority);
    const now = steps.at(raising.step);
    if (now === undefined || !now.people.every((person) => isHeld(person) && waits(person))) return;
    const next = steps.findIndex(({ people }, i) => i > raising.step && !people.every(isHeld));
    if (next < 0) return;
    const isAgain = raising.isAgain;
    raising.step = next;
    raising.isAgain = false;
    // Who was never told has not failed to answer.
    if (isAgain) this.#tellStep(raising, "passed-on", now.awaited?.name ?? "", steady);
    else this.#tellStep(raising, "raised", "", steady);
  }

  #tellStep(raising: Raising, kind: "raised" | "passed-on", after: string, now: Micros): void {
    for (const { name } of this.#stepOf(raising)?.people ?? []) {
      this.#put(name, { raising: raising.id, kind, after }, hasteOf(raising, kind), now);
    }
  }

  #stepOf({ change, step }: Raising) {
    return stepsOf(this.setup.people, change.priority).at(step);
  }

  #put(person: string, item: Waiting, haste: Haste, now: Micros): void {
    this.inboxes.get(person)?.add(item, haste, now);
  }

  #noticeTo(person: Person, now: Moment): Notice | undefined {
    const inbox = this.inboxes.get(person.name);
    if (inbox === undefined || inbox.due > now.steady) return undefined;
    const quiet = person.quiet === undefined
      ? 0
      : quietFor(person.quiet, now.wall, this.setup.timeZone);
    const holds = quiet > 0 ? person.quiet?.holds ?? [] : [];
    const isHeld = ({ raising }: Waiting): boolean => {
      const priority = this.raisings.get(raising)?.change.priority;
      return priority !== undefined && holds.includes(priority);
    };
    const items = inbox.waiting.filter((item) => !isHeld(item))
      .map((item) => this.#itemOf(item))
      .filter((item) => item !== undefined)
      .toSorted(inOrder);
    const flooded = items.length === 0 ? 0 : inbox.floodedUntil(gravityOf(items[0]));
    if (flooded > now.steady) {
      inbox.due = flooded;
      return undefined;
    }
    inbox.waiting = inbox.waiting.filter(isHeld);
    inbox.due = inbox.waiting.length === 0 ? Infinity : now.steady + Math.min(quiet, LOOK_EVERY);
    if (items.length === 0) return undefined;
    inbox.noteTold(now.steady);
    for (const item of items) this.#noteTold(item, person, now.steady);
    return { person: person.name, items, isAgain: items.every(({ kind }) => kind === "again") };
  }

  /** What waits as it is now told; undefined where there is nothing left to tell. */
  #itemOf({ raising: id, kind, after }: Waiting): NoticeItem | undefined {
    const raising = this.raisings.get(id);
    if (raising === undefined) return undefined;
    const { number, change, over, answeredBy, isUnsaved } = raising;
    const item = { raising: id, number, change, over, after, isUnsaved };
    if (kind === "over") return { ...item, kind };
    // Somebody knows: that it was, or still is, wakes nobody else.
    if (answeredBy !== null || kind === "again" && over !== undefined) return undefined;
    return { ...item, kind: over === undefined ? kind : "was" };
  }

  #noteTold({ raising: id, kind }: NoticeItem, person: Person, now: Micros): void {
    const raising = this.raisings.get(id);
    if (raising === undefined) return;
    if (kind === "over" || kind === "was") {
      raising.told.delete(person.name);
      return;
    }
    raising.told.set(person.name, "on-its-way");
    // A caution asks for no answer.
    const isAwaited = this.#stepOf(raising)?.awaited === person;
    if (!isAwaited || raising.change.priority === "caution") return;
    raising.due = now + (person.ifNoAnswer ?? 0);
  }

  /** Lets go of what is over and owed to nobody. */
  #forget(): void {
    const owed = new Set<RaisingId>();
    for (const { waiting } of this.inboxes.values()) {
      for (const { raising } of waiting) owed.add(raising);
    }
    for (const { id, over, told, isUnsaved } of this.raisings.values()) {
      const isOnItsWay = [...told.values()].includes("on-its-way");
      if (over !== undefined && !isUnsaved && !isOnItsWay && !owed.has(id)) {
        this.raisings.delete(id);
      }
    }
  }
}

/** What nobody has answered has waited for long enough. */
function hasteOf({ change: { priority } }: Raising, kind: Waiting["kind"]): Haste {
  if (priority === "emergency-alarm") return "emergency";
  return priority === "alarm" || kind !== "raised" ? "at-once" : "soon";
}

function gravityOf(item: NoticeItem): Haste {
  const { priority } = item.change;
  if (isOver(item) || priority === "warning" || priority === "caution") return "soon";
  return priority === "emergency-alarm" ? "emergency" : "at-once";
}

function inOrder(a: NoticeItem, b: NoticeItem): number {
  return Number(isOver(a)) - Number(isOver(b)) ||
    PRIORITIES.indexOf(a.change.priority) - PRIORITIES.indexOf(b.change.priority) ||
    a.number - b.number;
}

/** A raising that is over, as one line of what was. */
function wasOf({ id, number, change, over, isUnsaved }: Raising): NoticeItem | undefined {
  if (over === undefined) return undefined;
  return { raising: id, number, change, over, kind: "was", after: "", isUnsaved };
}

function isOver({ kind }: NoticeItem): boolean {
  return kind === "over" || kind === "was";
}
