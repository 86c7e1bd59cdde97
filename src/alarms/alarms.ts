/**
 * Rules judged against the boat's signals, and the life of their alarms.
 *
 *     rules ─▶ unfold, tie (compile/) ─▶ judge (evaluate/) ─▶ life cycle ─▶ changes
 *                                            ▲   ▲                ▲
 *                              fresh signals ┘   └ timers         └ a person's answer
 *
 * Order of calls: `judge` after each completed message and after each timer of the boat; `runTimer`
 * while `nextDue` is not later than the next message; `drainChanges` once a turn. No clock is read
 * and nothing is awaited here.
 */
import type { Boat } from "../boat/boat.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { Micros } from "../ground/time.ts";
import { TimerHeap } from "../ground/timer-heap.ts";
import { Alarm } from "./alarm.ts";
import type { AlarmRecord } from "./alarm-memory.ts";
import { type Instant, messageOf, whyOf } from "./alarm-words.ts";
import type { Acknowledge, AlarmChange, AlarmStatus, AnswerOutcome, RoomLeft } from "./change.ts";
import { compile, type Compiled, tieAgain } from "./compile/compile.ts";
import type { Instance } from "./compile/instance.ts";
import { NewGround } from "./compile/new-ground.ts";
import { TWO_SENDERS } from "./compile/two-senders.ts";
import { Judge } from "./evaluate/judge.ts";
import { Slot } from "./evaluate/timer-slots.ts";
import { nextDue, type Observation, step, type Transition } from "./life-cycle/life-cycle.ts";
import { listOrder } from "./list-order.ts";
import { NOT_WATCHING, type NotWatched, reasonUnjudged } from "./not-judged.ts";
import { whyRefused } from "./refusal.ts";
import { roomLeftOf, roomOrder } from "./room-left.ts";
import type { Rule } from "./rules/rule.ts";
import { placeOfName } from "./rules/signal-name.ts";

export interface AlarmsSetup {
  readonly rules: readonly Rule[];
  readonly table: SignalTable;
  readonly boat: Boat;
  /** Wall time of a steady time, for what is shown and written. */
  readonly timeline: { wallOf(steady: Micros): Micros };
  /** How long a signal may stay unheard before it is bad; Infinity for ever. */
  readonly oldAgeOf: (signal: number) => Micros;
  /** What was kept of the alarms before a restart. */
  readonly memory?: readonly AlarmRecord[];
  /** Names of the devices that send one contested subject. */
  readonly sendersOf?: (group: string, subject: string) => readonly string[];
}

export class Alarms {
  readonly #setup: AlarmsSetup;
  readonly #table: SignalTable;
  #rules: readonly Rule[];
  #compiled: Compiled;
  #judge: Judge;
  #timers: TimerHeap;
  /** By instance of the judge, in the order of (tag, subject). */
  #alarms: Alarm[] = [];
  /** Place of each alarm in that list. */
  #places = new Map<string, number>();
  /** Kept from before for subjects that are not heard of yet, by alarm. */
  readonly #dormant = new Map<string, AlarmRecord>();
  #ground: NewGround;
  /** Whether the rules must be unfolded anew, whatever came. */
  #isStale = true;
  #changes: AlarmChange[] = [];
  readonly #dirty = new Set<string>();

  constructor(setup: AlarmsSetup) {
    this.#setup = setup;
    this.#table = setup.table;
    this.#rules = setup.rules;
    for (const record of setup.memory ?? []) this.#dormant.set(keyOf(record), record);
    // The first judgement compiles again, with the time from which it listens.
    this.#timers = new TimerHeap();
    this.#compiled = this.#compile();
    this.#judge = new Judge(this.#compiled, setup.table, setup.oldAgeOf, this.#timers);
    this.#ground = new NewGround(this.#rules, this.#compiled.instances, setup.table);
    this.#takeAlarms();
  }

  /** How many judgements were made, for the benchmark. */
  get evaluations(): number {
    return this.#judge.evaluations;
  }

  /** How many alarms there are: rules, each unfolded over its subjects. */
  get count(): number {
    return this.#alarms.length;
  }

  /** When `runTimer` is due; Infinity when nothing is. */
  get nextDue(): Micros {
    return this.#timers.nextDue;
  }

  /** Judges what the fresh signals touch, and empties their list. */
  judge(now: Micros): void {
    if (this.#isStale || this.#ground.hasSubjects()) {
      this.#unfoldAnew(now);
      this.#judge.judgeAll(now);
    } else {
      for (const i of this.#ground.takeInstances()) this.#tieAgain(i);
      this.#judge.judgeFresh(now);
    }
    this.#table.clearFresh();
    this.#live(now);
  }

  /** Runs the next timer, at its own due time. */
  runTimer(): void {
    const due = this.#timers.nextDue;
    const timer = this.#timers.take();
    if (timer < 0) return;
    const i = this.#judge.ownerOfTimer[timer];
    const slot = timer - this.#judge.firstTimer[i];
    if (slot === Slot.delay) this.#observe(i, this.#judge.judgementOf(i, due), due);
    else if (this.#judge.actOnTimer(i, slot, due)) this.#live(due);
  }

  /** Puts other rules in force. Alarms of the same tag and subject keep their state. */
  setRules(rules: readonly Rule[], now: Micros): void {
    const before = new Map(this.#rules.map((rule) => [JSON.stringify(rule), rule]));
    this.#rules = rules.map((rule) => before.get(JSON.stringify(rule)) ?? rule);
    this.#isStale = true;
    this.judge(now);
  }

  /** A person's answer to one raising. */
  acknowledge(answer: Acknowledge, now: Micros): AnswerOutcome {
    const i = this.#places.get(keyOf(answer));
    if (i === undefined) {
      return { accepted: false, refused: `There is no alarm ${answer.tag} of ${answer.subject}.` };
    }
    const { state, rule } = this.#alarms[i];
    const { occurrence, who } = answer;
    const changed = this.#observe(i, { kind: "answered", occurrence, who }, now);
    return changed ? { accepted: true } : {
      accepted: false,
      refused: whyRefused(state, occurrence, rule.priority),
    };
  }

  /** Whether `drainChanges` would bring any; it costs nothing to ask. */
  get hasChanges(): boolean {
    return this.#changes.length > 0;
  }

  /** The changes since the last call, in order. */
  drainChanges(): AlarmChange[] {
    const changes = this.#changes;
    this.#changes = [];
    return changes;
  }

  /** Every alarm as it stands, in the order of a list. */
  statuses(): AlarmStatus[] {
    return this.#alarms.map((alarm) => alarm.status()).sort(listOrder);
  }

  /** How far each watched signal is from its limit, least room first. */
  roomLeft(now: Micros): RoomLeft[] {
    return this.#alarms.flatMap(({ instance }, i) => {
      const limit = this.#judge.tests.limitOf(i);
      const watching = this.#judge.isWatching(i);
      const facts = { limit, watching, oldAge: this.#oldAgeOf(instance), table: this.#table };
      return roomLeftOf(instance, facts, now) ?? [];
    }).sort(roomOrder);
  }

  /** The rules that cannot be judged now, with the reason. */
  notWatched(): NotWatched[] {
    const unjudged = this.#alarms.flatMap(({ instance }, i): NotWatched[] => {
      const limit = this.#judge.tests.limitOf(i);
      const reason = reasonUnjudged(instance, {
        watching: this.#judge.isWatching(i),
        limit,
        oldAge: this.#oldAgeOf(instance),
        table: this.#table,
      });
      if (reason === "" || reason === NOT_WATCHING) return [];
      const { tag, title } = instance.rule;
      return [{ tag, subject: instance.subject, title, reason }];
    });
    const unfolded = new Set(this.#alarms.map((alarm) => alarm.tag));
    const empty = this.#rules.filter((rule) => !unfolded.has(rule.tag))
      .map(({ tag, title, each }) => ({
        tag,
        title,
        subject: "",
        reason: `this boat has no ${each} that the rule means`,
      }));
    return [...unjudged, ...empty];
  }

  /** All that must survive a restart, as of now. */
  memory(now: Micros): AlarmRecord[] {
    const kept = this.#alarms.filter((alarm) => alarm.isWorthKeeping);
    const tags = new Set(this.#rules.map((rule) => rule.tag));
    const dormant = [...this.#dormant.values()].filter((record) => tags.has(record.tag));
    return [...kept.map((alarm) => alarm.record(now)), ...dormant];
  }

  /** The records of the alarms that changed since the last call. */
  dirtyRecords(now: Micros): AlarmRecord[] {
    const places = [...this.#dirty].flatMap((key) => this.#places.get(key) ?? []);
    this.#dirty.clear();
    return places.map((i) => this.#alarms[i].record(now));
  }

  #oldAgeOf({ signal }: Instance): Micros {
    return signal < 0 ? Infinity : this.#setup.oldAgeOf(signal);
  }

  #compile(): Compiled {
    const remembered = [...this.#dormant.values()].filter((record) => record.state !== "normal");
    const raised = this.#alarms.filter((alarm) => alarm.state.name !== "normal");
    const { table, boat } = this.#setup;
    return compile(this.#rules, table, boat, [...remembered, ...raised]);
  }

  #unfoldAnew(now: Micros): void {
    const { table, oldAgeOf } = this.#setup;
    const earlier = { judge: this.#judge, alarms: this.#alarms, places: this.#places };
    this.#compiled = this.#compile();
    this.#timers = new TimerHeap();
    this.#judge = new Judge(this.#compiled, table, oldAgeOf, this.#timers);
    this.#ground = new NewGround(this.#rules, this.#compiled.instances, table);
    this.#isStale = false;
    this.#takeAlarms();
    for (const [i, alarm] of this.#alarms.entries()) {
      const place = earlier.places.get(keyOf(alarm));
      if (place !== undefined) {
        this.#judge.adopt(i, earlier.judge, place);
        alarm.adopt(earlier.alarms[place]);
      }
      alarm.begin(now);
      this.#setTimer(i, alarm);
    }
  }

  /** An alarm for each instance, as it was kept where it was. */
  #takeAlarms(): void {
    this.#alarms = this.#compiled.instances.map((instance) => {
      const alarm = new Alarm(instance, this.#table);
      const record = this.#dormant.get(keyOf(alarm));
      if (record !== undefined) alarm.recall(record);
      this.#dormant.delete(keyOf(alarm));
      return alarm;
    });
    this.#places = new Map(this.#alarms.map((alarm, i) => [keyOf(alarm), i]));
  }

  #tieAgain(i: number): void {
    tieAgain(this.#compiled, i, this.#table, this.#setup.boat);
    this.#alarms[i].instance = this.#compiled.instances[i];
    this.#judge.follow(i);
  }

  /** Lets the alarms live on whose answers changed. */
  #live(now: Micros): void {
    const { changed, changedCount } = this.#judge;
    for (let c = 0; c < changedCount; c++) {
      const i = changed[c];
      this.#observe(i, this.#judge.judgementOf(i, now), now);
    }
  }

  /** One step of one alarm's life. True when it brought a change to tell. */
  #observe(i: number, observation: Observation, now: Micros): boolean {
    const alarm = this.#alarms[i];
    const { state, transitions } = step(alarm.state, observation, now, alarm.manner);
    if (state === alarm.state) return false;
    alarm.state = state;
    this.#setTimer(i, alarm);
    for (const transition of transitions) this.#tell(i, transition, now);
    return transitions.length > 0;
  }

  #setTimer(i: number, alarm: Alarm): void {
    const due = nextDue(alarm.state);
    const timer = this.#judge.firstTimer[i] + Slot.delay;
    if (due === Infinity) this.#timers.clear(timer);
    else this.#timers.set(timer, due);
  }

  #tell(i: number, transition: Transition, now: Micros): void {
    const alarm = this.#alarms[i];
    const instant = this.#instantOf(i, now);
    const change = alarm.tell(transition, {
      limit: instant.limit,
      time: this.#setup.timeline.wallOf(now),
      message: messageOf(instant),
      why: whyOf(transition, instant),
    });
    this.#changes.push(change);
    this.#dirty.add(keyOf(alarm));
  }

  #instantOf(i: number, now: Micros): Instant {
    const { instance } = this.#alarms[i];
    const { group, subject } = placeOfName(instance.signalName);
    return {
      instance,
      table: this.#table,
      owners: this.#setup.boat.units,
      limit: this.#judge.tests.limitOf(i),
      watching: this.#judge.isWatching(i),
      now,
      senders: instance.rule.tag === TWO_SENDERS
        ? this.#setup.sendersOf?.(group, subject) ?? []
        : [],
    };
  }
}

function keyOf({ tag, subject }: { readonly tag: string; readonly subject: string }): string {
  return `${tag}/${subject}`;
}
