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
import { nearestName } from "../ground/spelling.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import type { Alarm } from "./alarm.ts";
import type { AlarmRecord } from "./alarm-record.ts";
import { keyOf } from "./alarm-key.ts";
import { AlarmSet, type Ground } from "./alarm-set.ts";
import { type Instant, messageOf, whyOf } from "./alarm-words.ts";
import { type Acknowledge, type Answer, type AnswerOutcome, moveOf } from "./answer.ts";
import type { AlarmChange, AlarmStatus, RoomLeft } from "./change.ts";
import { TWO_SENDERS } from "./compile/two-senders.ts";
import { Slot } from "./evaluate/timer-slots.ts";
import { isTimed } from "./life-cycle/alarm-life.ts";
import { Kleene } from "./life-cycle/kleene.ts";
import { type Observation, step, type Transition } from "./life-cycle/life-cycle.ts";
import { isForNothing } from "./for-nothing.ts";
import { listOrder } from "./list-order.ts";
import { type NotWatched, reasonUnjudged } from "./not-judged.ts";
import { type Proof, proofOf } from "./proof.ts";
import { whyRefused } from "./refusal.ts";
import { roomLeftOf, roomOf, roomOrder } from "./room-left.ts";
import type { Rule } from "./rules/rule.ts";
import { rulesNotWatched } from "./rules-not-watched.ts";
import { placeOfName } from "./rules/signal-name.ts";

export interface AlarmsSetup extends Ground {
  readonly rules: readonly Rule[];
  /** Wall time of a steady time, for what is shown and written. */
  readonly timeline: { wallOf(steady: Micros): Micros };
  /** What was kept of the alarms before a restart. */
  readonly memory?: readonly AlarmRecord[];
  /** Names of the devices that send one contested subject. */
  readonly sendersOf?: (group: string, subject: string) => readonly string[];
}

export class Alarms {
  readonly #setup: AlarmsSetup;
  readonly #set: AlarmSet;
  /** False where no real boat is heard: that an alarm sounds is no proof of it then. */
  isProof = true;
  #changes: AlarmChange[] = [];
  /** When the room left is looked at again: once a second. */
  #nextLook: Micros = 0;
  /** Alarms that changed since `dirtyRecords` was asked. */
  readonly #dirty = new Set<string>();

  constructor(setup: AlarmsSetup) {
    this.#setup = setup;
    this.#set = new AlarmSet(setup.rules, setup, setup.memory ?? []);
  }

  /** How many judgements were made, for the benchmark. */
  get evaluations(): number {
    return this.#set.judge.evaluations;
  }

  /** Whether any rule judges or watches a signal. */
  isNamed(signal: number): boolean {
    return this.#set.judge.names(signal);
  }

  /** How many alarms the owner's rules make, each unfolded over its subjects. */
  get count(): number {
    return this.#set.alarms.filter((alarm) => !alarm.isAboutWatching).length;
  }

  /** When `runTimer` is due; Infinity when nothing is. */
  get nextDue(): Micros {
    return this.#set.nextDue;
  }

  /**
   * Judges what the fresh signals touch, and empties their list. Before the first stamp there is no
   * time from which anything could run: what is fresh then waits for it.
   */
  judge(now: Micros): void {
    if (now === 0) return;
    const hadBegun = this.#set.hasBegun;
    this.#set.judgeFresh(now);
    if (!hadBegun) this.#noteHeld();
    this.#setup.table.clearFresh();
    if (this.#set.judge.changedCount > 0) this.#live(now);
    if (now >= this.#nextLook) this.#lookAtRoom(now);
  }

  /** Runs the next timer, at its own due time, after those of the alarms that cover its own. */
  runTimer(): void {
    const { timers, nextDue: due } = this.#set;
    if (due < timers.nextDue) return this.judge(due);
    const timer = timers.take();
    if (timer >= 0) this.#act(timer, due);
  }

  #act(timer: number, due: Micros): void {
    const { judge, timers, covers } = this.#set;
    const i = judge.ownerOfTimer[timer];
    for (const above of covers.coveringOf(i)) {
      for (const other of judge.timersOf(above)) {
        if (timers.dueOf(other) !== due) continue;
        timers.clear(other);
        this.#act(other, due);
      }
    }
    const slot = timer - judge.firstTimer[i];
    if (slot === Slot.delay) this.#judged(i, due);
    else if (judge.actOnTimer(i, slot, due)) this.#live(due);
  }

  /** Puts other rules in force. Alarms of the same tag and subject keep their state. */
  setRules(rules: readonly Rule[], now: Micros): void {
    this.#set.setRules(rules);
    this.judge(now);
  }

  /**
   * A person's answer to one raising.
   * @param isAfar not given at the boat's own page or on her own network
   */
  answer(answer: Answer, now: Micros, isAfar = false): AnswerOutcome {
    // What was heard so far may have been nothing that a rule asks for.
    if (!this.#set.hasBegun) this.judge(now);
    const i = this.#set.places.get(keyOf(answer));
    if (i === undefined) {
      return { accepted: false, refused: this.#unknown(answer) };
    }
    const { life, rule } = this.#set.alarms[i];
    const refused = whyRefused(answer, life, rule, isAfar);
    if (refused !== "") return { accepted: false, refused };
    this.#observe(i, moveOf(answer, now), now, answer.why ?? "");
    // An alarm that is normal again may be suppressed.
    this.#judged(i, now);
    return { accepted: true };
  }

  #unknown({ tag, subject }: Answer): string {
    const subjects = this.subjectsOf(tag);
    const nearest = subjects.length > 0
      ? nearestName(subject, subjects)
      : nearestName(tag, this.#set.alarms.map((alarm) => alarm.tag));
    const meant = nearest === undefined ? "." : `; did you mean ${nearest}?`;
    return `There is no alarm ${tag} of ${subject}${meant}`;
  }

  /** Whether a rule that is in force makes such an alarm. */
  has(alarm: { readonly tag: string; readonly subject: string }): boolean {
    return this.#set.places.has(keyOf(alarm));
  }

  /** The latest raising of one, told or not; 0 for one that was never raised. */
  occurrenceOf(tag: string, subject: string): number {
    const i = this.#set.places.get(keyOf({ tag, subject }));
    return i === undefined ? 0 : this.#set.alarms[i].life.state.occurrence;
  }

  acknowledge(answer: Acknowledge, now: Micros): AnswerOutcome {
    return this.answer(answer, now);
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
    const wallOf = (steady: Micros) => this.#setup.timeline.wallOf(steady);
    return this.#set.alarms
      .filter((alarm) => !alarm.isAboutWatching || alarm.life.state.occurrence > 0)
      .map((alarm) => alarm.status(wallOf))
      .sort(listOrder);
  }

  /** How far each watched signal is from its limit, least room first. */
  roomLeft(now: Micros): RoomLeft[] {
    return this.#set.alarms
      .flatMap(({ instance, leastRoom }, i): RoomLeft[] => {
        const room = roomLeftOf(instance, this.#set.standingOf(i), now);
        if (room === null) return [];
        return [{
          ...room,
          hour: least(room.room, leastRoom?.lastHour(now) ?? null),
          day: least(room.room, leastRoom?.lastDay(now) ?? null),
        }];
      })
      .sort(roomOrder);
  }

  /** When each alarm was last really made to sound. @param since when this boat was watched first */
  proofs(since: Micros): Proof[] {
    return proofOf(this.#set.alarms, since);
  }

  /** All of them, in the order of (tag, subject); another list where there are others than before. */
  get list(): readonly Alarm[] {
    return this.#set.alarms;
  }

  /** Whether the condition of one lets it judge. @param place in the list, as below */
  isWatching(place: number): boolean {
    return this.#set.judge.isWatching(place) === Kleene.yes;
  }

  /** Goes up when an alarm is tied to a signal that came later. */
  get ties(): number {
    return this.#set.ties;
  }

  /** A number that is another one whenever what it found, or whether it watches, is another. */
  answerOf(place: number): number {
    return this.#set.judge.answerOf(place);
  }

  /** Why one is not judged now; empty when it is. */
  reasonUnjudged(place: number): string {
    return reasonUnjudged(this.#set.alarms[place].instance, this.#set.standingOf(place));
  }

  /** The room of one that is judged now; NaN where it has none. It costs little to ask. */
  roomOf(place: number, now: Micros): number {
    const { alarms, judge } = this.#set;
    if (!judge.tests.isNotHeard(place)) return judge.tests.roomOf(place, now);
    return roomOf(alarms[place].instance, this.#set.standingOf(place), now);
  }

  /** The same with what it was made of; null where it has none. */
  roomLeftOf(place: number, now: Micros): RoomLeft | null {
    return roomLeftOf(this.#set.alarms[place].instance, this.#set.standingOf(place), now);
  }

  /** The rules that cannot be judged now, with the reason. */
  notWatched(): NotWatched[] {
    return rulesNotWatched(this.#set, this.#setup);
  }

  /** The same without those that the boat file says are about nothing aboard. */
  unjudged(): NotWatched[] {
    const { table, boat } = this.#setup;
    const forNothing = new Set(
      this.#set.rules.filter((rule) => isForNothing(rule, table, boat)).map(({ tag }) => tag),
    );
    return this.notWatched().filter(({ tag, subject }) => subject !== "" || !forNothing.has(tag));
  }

  /** The subjects of which a rule makes alarms. */
  subjectsOf(tag: string): string[] {
    return this.#set.alarms.filter((alarm) => alarm.tag === tag).map(({ subject }) => subject);
  }

  /** All that must survive a restart, as of now. */
  memory(now: Micros): AlarmRecord[] {
    return this.#set.memory(now);
  }

  /** Whether any alarm changed since `dirtyRecords` was asked, told or not. */
  get hasUnkept(): boolean {
    return this.#dirty.size > 0;
  }

  /** The records of the alarms that changed since the last call. */
  dirtyRecords(now: Micros): AlarmRecord[] {
    const { alarms, places } = this.#set;
    const changed = [...this.#dirty].flatMap((key) => places.get(key) ?? []);
    this.#dirty.clear();
    return changed.map((i) => alarms[i].record(now));
  }

  /** Only now it is known until when alarms are put aside. */
  #noteHeld(): void {
    for (const { key, life } of this.#set.alarms) if (isTimed(life.hold)) this.#dirty.add(key);
  }

  #lookAtRoom(now: Micros): void {
    const { alarms, judge, minuteLows, withRoom } = this.#set;
    minuteLows.reach(now);
    for (const i of withRoom) {
      if (judge.isWatching(i) !== Kleene.yes) continue;
      const room = this.roomOf(i, now);
      if (minuteLows.isLowest(i, room)) alarms[i].noticeRoom(room, now);
    }
    this.#nextLook = now + SECOND;
  }

  /** Lets the alarms live on whose answers changed. */
  #live(now: Micros): void {
    const { judge, covers } = this.#set;
    const { changed, changedCount } = judge;
    if (changedCount > 1) covers.sort(changed.subarray(0, changedCount));
    for (let c = 0; c < changedCount; c++) this.#judged(changed[c], now);
  }

  #judged(i: number, now: Micros): void {
    const { judge, covers } = this.#set;
    this.#observe(i, judge.judgementOf(i, covers.isCovered(i), now), now);
  }

  /** One step of one alarm's life. */
  #observe(i: number, observation: Observation, now: Micros, note = ""): void {
    const alarm = this.#set.alarms[i];
    const { life, transitions } = step(alarm.life, observation, now, alarm.manner);
    if (life === alarm.life) return;
    alarm.life = life;
    this.#set.setTimer(i);
    for (const transition of transitions) this.#tell(i, transition, now, note);
    if (transitions.length === 0) return;
    for (const other of this.#set.covers.note(i, alarm.isPresent)) this.#judged(other, now);
  }

  #tell(i: number, transition: Transition, now: Micros, note: string): void {
    const alarm = this.#set.alarms[i];
    const instant = this.#instantOf(i, now);
    const change = alarm.tell(transition, {
      limit: instant.limit,
      now,
      isProof: this.isProof,
      time: this.#setup.timeline.wallOf(now),
      message: messageOf(instant),
      why: whyOf(transition, instant, note),
      explanation: this.#set.explain(i, now, heldFor(transition, alarm.rule)),
    });
    this.#dirty.add(alarm.key);
    if (transition.isTold) this.#changes.push(change);
  }

  #instantOf(i: number, now: Micros): Instant {
    const { instance, life } = this.#set.alarms[i];
    const { group, subject } = placeOfName(instance.signalName);
    const isContested = instance.rule.tag === TWO_SENDERS;
    return {
      ...this.#set.standingOf(i),
      instance,
      owners: this.#setup.boat.units,
      now,
      hold: life.hold,
      senders: isContested ? this.#setup.sendersOf?.(group, subject) ?? [] : [],
      unjudged: instance.test.kind === "unjudged"
        ? reasonUnjudged(
          this.#set.alarms[instance.test.of].instance,
          this.#set.standingOf(instance.test.of),
        )
        : "",
    };
  }
}

function heldFor({ cause }: Transition, { onDelay, offDelay }: Rule): Micros {
  if (cause === "raised") return onDelay;
  return cause === "returned" ? offDelay : 0;
}

function least(now: number | null, before: number | null): number | null {
  return now === null || before === null ? now ?? before : Math.min(now, before);
}
