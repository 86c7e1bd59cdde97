import type { SignalTable } from "../boat/signal-table.ts";
import type { Boat } from "../boat/boat.ts";
import { type Micros, MILLISECOND } from "../ground/time.ts";
import { TimerHeap } from "../ground/timer-heap.ts";
import { Alarm } from "./alarm.ts";
import { keyOf } from "./alarm-key.ts";
import type { AlarmRecord } from "./alarm-record.ts";
import { Covers } from "./covers.ts";
import { BUILT_IN_TAGS } from "./compile/built-in.ts";
import { compile, type Compiled, tieAgain } from "./compile/compile.ts";
import type { Instance } from "./compile/instance.ts";
import { NewGround } from "./compile/new-ground.ts";
import { explain, type Explanation } from "./explanation.ts";
import { Judge } from "./evaluate/judge.ts";
import { Slot } from "./evaluate/timer-slots.ts";
import { MinuteLows } from "./least-room.ts";
import { isPresent, nextDue } from "./life-cycle/alarm-life.ts";
import type { Standing } from "./not-judged.ts";
import type { Rule } from "./rules/rule.ts";

/** What the alarms are about. */
export interface Ground {
  readonly table: SignalTable;
  readonly boat: Boat;
  /** How long a signal may stay unheard before it is bad; Infinity for ever. */
  readonly oldAgeOf: (signal: number) => Micros;
}

/**
 * On a bus that has just been switched on one subject after another is heard: to unfold the rules
 * for each of them would be half the work of a short recording.
 */
const BETWEEN_UNFOLDINGS: Micros = 100 * MILLISECOND;

/**
 * All alarms that the rules make of the boat as it is known now, and the judge of their rules. Soon
 * after a subject is heard for the first time the rules are unfolded anew, and every alarm goes on as
 * it was; when a signal is, only the rules that waited for it are tied again.
 */
export class AlarmSet {
  rules: readonly Rule[];
  judge: Judge;
  timers = new TimerHeap();
  /** By instance of the judge, in the order of (tag, subject). */
  alarms: Alarm[] = [];
  /** Place of each alarm in that list. */
  places = new Map<string, number>();
  covers = new Covers([]);
  minuteLows = new MinuteLows(0);
  /** How many alarms were tied again. */
  ties = 0;
  #withRoom: readonly number[] | null = null;
  /** Kept from before a restart for subjects that are not heard of yet. */
  readonly #dormant = new Map<string, AlarmRecord>();
  readonly #ground: Ground;
  #compiled: Compiled;
  #newGround: NewGround;
  /** The rules must be unfolded anew, whatever came; so before the first judgement. */
  #isStale = true;
  #unfoldedAt: Micros = -Infinity;
  /** When they are unfolded anew because subjects have come; Infinity: none has. */
  #growsAt: Micros = Infinity;

  constructor(rules: readonly Rule[], ground: Ground, records: readonly AlarmRecord[]) {
    this.rules = rules;
    this.#ground = ground;
    for (const record of records) this.#dormant.set(keyOf(record), record);
    this.#compiled = this.#compile(null);
    this.#newGround = new NewGround(rules, this.#compiled.instances, ground.table);
    this.judge = new Judge(this.#compiled, ground.table, ground.oldAgeOf, this.timers);
    this.#takeAlarms();
  }

  /** Whether the rules that are in force were ever judged. */
  get hasBegun(): boolean {
    return !this.#isStale;
  }

  /** Judges what the fresh signals touch; everything, if there are other alarms than before. */
  judgeFresh(now: Micros): void {
    if (this.#isStale || this.#newGround.hasCome || now >= this.#growsAt) {
      this.#judgeOnNewGround(now);
    } else {
      this.judge.judgeFresh(now);
    }
  }

  #judgeOnNewGround(now: Micros): void {
    if (!this.#isStale && this.#newGround.hasSubjects()) {
      this.#growsAt = Math.min(this.#growsAt, this.#unfoldedAt + BETWEEN_UNFOLDINGS);
    }
    if (this.#isStale || now >= this.#growsAt) {
      this.#unfoldAnew(now);
      this.judge.judgeAll(now);
    } else {
      for (const i of this.#newGround.takeInstances()) this.#tieAgain(i);
      this.judge.judgeFresh(now);
    }
  }

  /** When `judgeFresh` or a timer is due though nothing is fresh; Infinity when nothing is. */
  get nextDue(): Micros {
    return Math.min(this.timers.nextDue, this.#growsAt);
  }

  /** Places of the alarms that can have room: they are few where little is sent. */
  get withRoom(): readonly number[] {
    const { tests } = this.judge;
    return this.#withRoom ??= [...this.alarms.keys()].filter((i) => tests.hasRoom(i));
  }

  /** Other rules from the next judgement on; one that is the same as before counts as that one. */
  setRules(rules: readonly Rule[]): void {
    const before = new Map(this.rules.map((rule) => [JSON.stringify(rule), rule]));
    this.rules = rules.map((rule) => before.get(JSON.stringify(rule)) ?? rule);
    this.#isStale = true;
  }

  /** Sets the timer of an alarm's delay; none runs before listening has begun. */
  setTimer(i: number): void {
    const { hasBegun, life } = this.alarms[i];
    const due = hasBegun ? nextDue(life) : Infinity;
    const timer = this.judge.firstTimer[i] + Slot.delay;
    if (due === Infinity) this.timers.clear(timer);
    else this.timers.set(timer, due);
  }

  standingOf(i: number): Standing {
    const { signal } = this.alarms[i].instance;
    return {
      watching: this.judge.isWatching(i),
      limit: this.judge.tests.limitOf(i),
      oldAge: signal < 0 ? Infinity : this.#ground.oldAgeOf(signal),
      table: this.#ground.table,
    };
  }

  /** Why one alarm stands as it does. @param held how long its test had to hold */
  explain(i: number, now: Micros, held: Micros): Explanation {
    const standing = { ...this.standingOf(i), suppressed: this.judge.isSuppressed(i) };
    return explain(this.alarms[i].instance, standing, this.#compiled.program, now, held);
  }

  /** All that must survive a restart, as of now. */
  memory(now: Micros): AlarmRecord[] {
    const kept = this.alarms.filter((alarm) => alarm.isWorthKeeping);
    const tags = new Set([...BUILT_IN_TAGS, ...this.rules.map((rule) => rule.tag)]);
    const dormant = [...this.#dormant.values()].filter((record) => tags.has(record.tag));
    return [...kept.map((alarm) => alarm.record(now)), ...dormant];
  }

  #compile(before: Compiled | null): Compiled {
    const remembered = [...this.#dormant.values()].filter((record) => record.state !== "normal");
    const raised = this.alarms.filter((alarm) => alarm.life.state.name !== "normal");
    const { table, boat } = this.#ground;
    return compile(this.rules, table, boat, [...remembered, ...raised], before);
  }

  #unfoldAnew(now: Micros): void {
    const { table, oldAgeOf } = this.#ground;
    const earlier = { judge: this.judge, alarms: this.alarms, places: this.places };
    this.#compiled = this.#compile(this.#isStale ? null : this.#compiled);
    this.#newGround = new NewGround(this.rules, this.#compiled.instances, table);
    this.#isStale = false;
    this.#unfoldedAt = now;
    this.#growsAt = Infinity;
    this.timers = new TimerHeap();
    this.judge = new Judge(this.#compiled, table, oldAgeOf, this.timers);
    this.#takeAlarms();
    this.#remember(earlier.alarms, now);
    for (const [i, alarm] of this.alarms.entries()) {
      const place = earlier.places.get(alarm.key);
      if (place !== undefined) {
        this.judge.adopt(i, earlier.judge, place);
        if (alarm !== earlier.alarms[place]) alarm.adopt(earlier.alarms[place]);
      }
      const goesOn = place !== undefined && earlier.alarms[place].rule === alarm.rule &&
        alarm.hasBegun;
      if (!goesOn && isPresent(alarm.life.state)) this.judge.presumeHeld(i);
      alarm.begin(now);
      this.setTimer(i);
      this.covers.note(i, alarm.isPresent);
    }
  }

  /** An alarm for each instance: the one that it has, or a new one, as it was kept where it was. */
  #takeAlarms(): void {
    const known = new Map(this.alarms.map((alarm) => [alarm.instance, alarm]));
    this.alarms = this.#compiled.instances.map((instance) =>
      known.get(instance) ?? this.#newAlarm(instance)
    );
    this.places = new Map(this.alarms.map((alarm, i) => [alarm.key, i]));
    this.covers = new Covers(this.#compiled.instances);
    this.minuteLows = new MinuteLows(this.alarms.length);
    this.#withRoom = null;
  }

  #newAlarm(instance: Instance): Alarm {
    const alarm = new Alarm(instance, this.#ground.table);
    const record = this.#dormant.get(alarm.key);
    if (record !== undefined) alarm.recall(record);
    this.#dormant.delete(alarm.key);
    return alarm;
  }

  /** A rule that is taken out may come back: its alarms count on and stand as they stood. */
  #remember(earlier: readonly Alarm[], now: Micros): void {
    for (const alarm of earlier) {
      if (this.places.has(alarm.key) || !alarm.isWorthKeeping) continue;
      this.#dormant.set(alarm.key, alarm.record(now));
    }
  }

  #tieAgain(i: number): void {
    this.ties++;
    tieAgain(this.#compiled, i, this.#ground.table, this.#ground.boat);
    this.alarms[i].instance = this.#compiled.instances[i];
    this.judge.follow(i);
    this.#withRoom = null;
  }
}
