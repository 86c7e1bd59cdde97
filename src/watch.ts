/**
 * The whole pipeline on one screen: batches of frames and a time go in, signals and changes of
 * alarms come out. It reads no clock and waits for nothing, so a live bus, a recording at thousands
 * of times real speed and a test run through the same lines, and the same frames always give the
 * same changes, whatever the size of the batches.
 *
 * Order of calls: `feed` for frames, `advance` while the bus is silent, then `takeChanges` and
 * `signals.table.touched` once a turn for the outlets.
 */
import type { Answer, AnswerOutcome } from "./alarms/answer.ts";
import type { AlarmChange } from "./alarms/change.ts";
import { Alarms } from "./alarms/alarms.ts";
import type { AlarmRecord } from "./alarms/alarm-record.ts";
import { hoursIn } from "./alarms/rules/hours-in.ts";
import type { Rule } from "./alarms/rules/rule.ts";
import type { Boat } from "./boat/boat.ts";
import { type BoatSaying, BoatState, type BoatStateRecord, NEVER_SET } from "./boat/boat-state.ts";
import { BoatSignals } from "./boat/boat-signals.ts";
import {
  type ComputerQuantity,
  ComputerState,
  PROOFS_DUE,
  RULES_REFUSED,
} from "./boat/computer-state.ts";
import { TimeOfDay } from "./boat/time-of-day.ts";
import { HealthSignals } from "./boat/health/health-signals.ts";
import { BilgePumps } from "./boat/inferred/bilge-pumps.ts";
import { OpenBatteries } from "./boat/open-batteries.ts";
import { sayDevice } from "./boat/say-device.ts";
import type { BusNames } from "./bus/bus-names.ts";
import type { FrameBatch } from "./bus/frame-batch.ts";
import { Timeline } from "./ground/timeline.ts";
import type { Micros } from "./ground/time.ts";
import { MessageAssembler } from "./nmea2000/assembler.ts";
import { Columns } from "./nmea2000/columns.ts";
import type { RememberedDevice } from "./nmea2000/device-memory.ts";
import { DeviceList } from "./nmea2000/devices.ts";
import { ALL_ROWS } from "./nmea2000/rows/all.ts";

export interface WatchSetup {
  readonly boat: Boat;
  readonly rules: readonly Rule[];
  readonly busNames: BusNames;
  /** What was known of the alarms when the program last stopped. */
  readonly memory?: readonly AlarmRecord[];
  /** What a person had set of the boat's condition. */
  readonly boatState?: BoatStateRecord;
  /** Devices of an earlier run: who joins late hears no claims. */
  readonly rememberedDevices?: readonly RememberedDevice[];
  /** No time of the bus before this one is believed; the build date when not given. */
  readonly clockNotBefore?: Micros;
  /** Who answers alarms by schedule, in a rehearsal. */
  readonly answering?: Answering;
  /** Looks at the signals after each message and each of their timers, before rules judge them. */
  readonly onSignals?: (signals: BoatSignals, by: "message" | "timer", now: Micros) => void;
}

/** Something with timers of its own, run in the order of their due times. */
export interface Timed {
  readonly nextDue: Micros;
  /** Runs the next timer at its own due time. */
  runTimer(): void;
}

/** A person who says who is aboard. */
export interface ConditionSaid {
  readonly kind: "condition";
  readonly saying: BoatSaying;
}

/** Answers alarms at event times; told of every change. */
export interface Answering {
  readonly nextDue: Micros;
  notice(change: AlarmChange, now: Micros): void;
  /**
   * What is due, taken from the list.
   * @param occurrenceOf the latest raising of an alarm, told or not; 0 for none
   */
  take(occurrenceOf: (tag: string, subject: string) => number): Answer | ConditionSaid;
  /** The answer that was taken last changed nothing. @param why a sentence */
  refused?(why: string): void;
}

export class Watch {
  readonly timeline = new Timeline();
  readonly devices: DeviceList;
  readonly signals: BoatSignals;
  readonly health: HealthSignals;
  readonly boatState: BoatState;
  readonly alarms: Alarms;
  readonly assembler: MessageAssembler;
  readonly #computer: ComputerState;
  readonly #timeOfDay: TimeOfDay;
  readonly #pumps: BilgePumps;
  readonly #openBatteries: OpenBatteries;
  readonly #answering: Answering | undefined;
  readonly #onSignals: WatchSetup["onSignals"];
  /** Steady time of the last frame of any bus; 0 before the first. */
  lastFrame: Micros = 0;
  #changes: AlarmChange[] = [];
  #nextDue: Micros = Infinity;

  constructor(setup: WatchSetup) {
    const columns = new Columns(ALL_ROWS);
    this.assembler = new MessageAssembler(columns);
    const { boat, busNames, rememberedDevices: remembered } = setup;
    this.devices = new DeviceList(columns, remembered && { devices: remembered, busNames });
    const { devices, timeline } = this;
    const wallOf = (steady: Micros) => timeline.wallOf(steady);
    this.signals = new BoatSignals({ boat, busNames, columns, devices });
    if (setup.onSignals === undefined) this.signals.table.leaveOutUnheeded();
    this.health = new HealthSignals({
      boat,
      busNames,
      columns,
      devices,
      signals: this.signals,
      lostBySender: this.assembler.counts.lostBySource,
      wallOf,
      notBefore: setup.clockNotBefore,
    });
    this.boatState = new BoatState(this.signals.table, setup.boatState ?? NEVER_SET, 0);
    this.#computer = new ComputerState(this.signals.table);
    this.#pumps = new BilgePumps(this.signals.table, boat);
    this.#openBatteries = new OpenBatteries(this.signals.table, boat);
    this.#timeOfDay = new TimeOfDay(this.signals.table, boat.timeZone, wallOf);
    this.#timeOfDay.begin(hoursIn(setup.rules));
    this.alarms = new Alarms({
      rules: setup.rules,
      boat: setup.boat,
      table: this.signals.table,
      oldAgeOf: (signal) => this.signals.oldAgeOf(signal),
      sendersOf: (group, subject) => this.#sendersOf(group, subject),
      timeline: this.timeline,
      memory: setup.memory,
    });
    this.#answering = setup.answering;
    this.#onSignals = setup.onSignals;
  }

  /** Takes every frame of a batch, in order, each after the timers that were due before it. */
  feed(batch: FrameBatch): void {
    const { assembler, health, timeline } = this;
    const { buses, count, times } = batch;
    const { awake } = health;
    let counted = 0;
    if (batch.clockStep !== 0 && count > 0) timeline.step(times[0]);
    for (let i = 0; i < count; i++) {
      const now = timeline.reach(times[i]);
      if (now >= this.#nextDue) {
        counted = health.count(batch, counted, i);
        this.#runTimers(now);
      }
      if (awake[buses[i]] === 0) this.#wake(buses[i], now);
      if (assembler.accept(batch, i, now)) this.#message(now);
    }
    health.count(batch, counted, count);
    if (count > 0) this.lastFrame = timeline.now;
  }

  /** Lets time pass while no frame comes. */
  advance(stamp: Micros): void {
    const now = this.timeline.reach(stamp);
    this.health.listen(now);
    this.#lookAhead();
    if (now >= this.#nextDue) this.#runTimers(now);
  }

  /** What a person does about one raising. @param isAfar not at the boat's own page or network */
  answer(answer: Answer, isAfar = false): AnswerOutcome {
    const outcome = this.alarms.answer(answer, this.timeline.now, isAfar);
    this.#collect(this.timeline.now);
    return outcome;
  }

  /** A person says who is aboard, or whether the boat was made ready for frost. */
  setCondition(saying: BoatSaying): void {
    this.boatState.set(saying, this.timeline.now);
    this.#judge(this.timeline.now);
  }

  /** Other rules from now on. Alarms of a rule that is the same as before go on as they were. */
  setRules(rules: readonly Rule[]): void {
    const { now } = this.timeline;
    this.#timeOfDay.begin(hoursIn(rules));
    if (now > 0) this.#timeOfDay.follow(now);
    this.alarms.setRules(rules, now);
    this.#collect(now);
    this.#lookAhead();
  }

  /** Whether the rule files lie there with a mistake, so that earlier rules are in force. */
  noteRulesRefused(isRefused: boolean): void {
    this.noteComputer(RULES_REFUSED, isRefused ? 1 : 0);
  }

  /** How many alarms were not made to sound for a season. */
  noteProofsDue(count: number): void {
    this.noteComputer(PROOFS_DUE, count);
  }

  /** What the program finds out about itself. @param value NaN while it is not known */
  noteComputer(quantity: ComputerQuantity, value: number): void {
    this.#computer.note(quantity, value, this.timeline.now);
    this.#judge(this.timeline.now);
    this.#lookAhead();
  }

  /** Whether `takeChanges` would bring any. */
  get hasChanges(): boolean {
    return this.#changes.length > 0;
  }

  /** The changes since the last call, in order; what comes later is not added to them. */
  takeChanges(): AlarmChange[] {
    const changes = this.#changes;
    this.#changes = [];
    return changes;
  }

  #sendersOf(group: string, subject: string): readonly string[] {
    const contested = this.signals.contested()
      .find((one) => one.group === group && one.subject === subject);
    return contested?.senders.map(sayDevice) ?? [];
  }

  #wake(bus: number, now: Micros): void {
    this.health.wake(bus, now);
    this.#lookAhead();
  }

  #message(now: Micros): void {
    const { assembler, signals } = this;
    this.devices.take(assembler, now);
    this.health.take(assembler, now);
    const fresh = signals.take(assembler, now);
    this.#onSignals?.(signals, "message", now);
    if (fresh) this.#judgeFresh(now);
    // A timer that a message sets may come first; one that it clears is passed over when due.
    const due = signals.nextDue;
    if (due < this.#nextDue) this.#nextDue = due;
  }

  /** Most messages bring nothing that anybody judges by; judging may set timers of any kind. */
  #judgeFresh(now: Micros): void {
    const { table } = this.signals;
    if (table.freshHeeded === 0) return table.clearFresh();
    this.#judge(now);
    this.#lookAhead();
  }

  /** Before the first stamp nothing has a time: what was noted by then is judged with the first message. */
  #judge(now: Micros): void {
    if (now === 0) return;
    this.boatState.follow(now);
    this.#timeOfDay.follow(now);
    this.#pumps.follow(now);
    this.#openBatteries.follow(now);
    this.alarms.judge(now);
    this.#collect(now);
  }

  /**
   * Timers due at or before `now`, each at its own due time: signals, health, the boat, alarms,
   * answers. Where the next one was cleared meanwhile, nothing happens at its time.
   */
  #runTimers(now: Micros): void {
    while (this.#nextDue <= now) {
      const due = this.#nextDue;
      if (this.signals.nextDue === due) {
        this.signals.runTimer();
        this.#onSignals?.(this.signals, "timer", due);
        this.#judge(due);
      } else if (this.health.nextDue === due) {
        // Each second, not each batch: what is lost must not depend on the size of batches.
        this.assembler.expire(due);
        this.health.runTimer();
        this.#onSignals?.(this.signals, "timer", due);
        this.#judge(due);
      } else if (this.boatState.nextDue === due) {
        this.boatState.runTimer();
        this.#judge(due);
      } else if (this.#pumps.nextDue === due) {
        this.#pumps.runTimer();
        this.#judge(due);
      } else if (this.#timeOfDay.nextDue === due) {
        this.#timeOfDay.runTimer();
        this.#judge(due);
      } else if (this.alarms.nextDue === due) {
        this.alarms.runTimer();
        this.#collect(due);
      } else if (this.#answering?.nextDue === due) {
        this.#takeAnswer(this.#answering, due);
      }
      this.#lookAhead();
    }
  }

  #takeAnswer(answering: Answering, due: Micros): void {
    const answer = answering.take((tag, subject) => this.alarms.occurrenceOf(tag, subject));
    if (answer.kind === "condition") {
      this.boatState.set(answer.saying, due);
      return this.#judge(due);
    }
    const outcome = this.alarms.answer(answer, due);
    if (!outcome.accepted) answering.refused?.(outcome.refused);
    this.#collect(due);
  }

  #lookAhead(): void {
    const signals = this.signals.nextDue;
    const alarms = this.alarms.nextDue;
    const health = this.health.nextDue;
    const answer = this.#answering === undefined ? Infinity : this.#answering.nextDue;
    const boat = Math.min(this.boatState.nextDue, this.#timeOfDay.nextDue, this.#pumps.nextDue);
    this.#nextDue = Math.min(signals, alarms, health, boat, answer);
  }

  #collect(now: Micros): void {
    if (!this.alarms.hasChanges) return;
    for (const change of this.alarms.drainChanges()) {
      this.#changes.push(change);
      this.#answering?.notice(change, now);
    }
    this.#lookAhead();
  }
}
