import { Alarms } from "../../alarms/alarms.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import { hoursIn } from "../../alarms/rules/hours-in.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import { Carriers } from "../../boat/carriers.ts";
import { CrankingVoltages } from "../../boat/cranking-voltages.ts";
import { DerivedSignals } from "../../boat/derived-signals.ts";
import { EngineConditions } from "../../boat/engine-conditions.ts";
import { OLD_AGES, OldAge, oldAgeFor } from "../../boat/old-age.ts";
import { Quality, Reason } from "../../boat/quality.ts";
import { TimeOfDay } from "../../boat/time-of-day.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { type Micros, parseIsoTime, SECOND } from "../../ground/time.ts";
import { TimerHeap } from "../../ground/timer-heap.ts";
import { Timeline } from "../../ground/timeline.ts";
import type { Answering } from "../../watch.ts";
import { type Saying, SignalCourse } from "./signal-course.ts";
import type { CaseSignal, SyntheticCase } from "./synthetic-case.ts";

export interface CaseSetup {
  readonly boat: Boat;
  readonly rules: readonly Rule[];
  readonly answering?: Answering;
}

/** When every case begins by the wall's clock, so that each run makes the same bytes. */
export const CASE_BEGINS: Micros = parseIsoTime("2026-01-01T00:00:00Z") ?? 0;

/**
 * A synthetic case at work: it writes signals where decoded messages would, and the same conditions,
 * old ages and rules follow. Each signal is said as often as its message usually comes, and at each
 * of its steps; signals said at one instant come in the order of the file, each as a message.
 */
export class CaseWatch {
  readonly timeline = new Timeline();
  readonly signals: { readonly table: SignalTable };
  readonly alarms: Alarms;
  readonly #table = new SignalTable();
  readonly #carriers = new Carriers(this.#table);
  readonly #timers = new TimerHeap();
  readonly #oldAge = new OldAge(this.#carriers);
  readonly #crankings: CrankingVoltages;
  readonly #engines: EngineConditions;
  readonly #timeOfDay: TimeOfDay;
  readonly #said: readonly SaidSignal[];
  readonly #answering: Answering | undefined;
  #changes: AlarmChange[] = [];

  constructor(readonly synthetic: SyntheticCase, setup: CaseSetup) {
    const { boat, rules } = setup;
    this.signals = { table: this.#table };
    this.#crankings = new CrankingVoltages(this.#table, new DerivedSignals(this.#carriers), boat);
    this.#engines = new EngineConditions(this.#carriers, this.#timers, 0, this.#crankings);
    this.#answering = setup.answering;
    for (const { group, name } of boat.subjects) this.#table.addSubject(group, name);
    this.#said = synthetic.signals.map((signal) => this.#prepare(signal));
    this.#timeOfDay = new TimeOfDay(
      this.#table,
      boat.timeZone,
      (steady) => this.timeline.wallOf(steady),
    );
    this.#timeOfDay.begin(hoursIn(rules));
    this.alarms = new Alarms({
      rules,
      boat,
      table: this.#table,
      oldAgeOf: (signal) => {
        const carrier = this.#table.carriers[signal];
        return carrier < 0 ? SECOND : this.#carriers.oldAge[carrier];
      },
      timeline: this.timeline,
    });
  }

  takeChanges(): AlarmChange[] {
    const changes = this.#changes;
    this.#changes = [];
    return changes;
  }

  /** Plays the whole case. @param onSecond called when each whole second is over */
  play(onSecond: () => void): void {
    const end = CASE_BEGINS + this.synthetic.lasting;
    let second = CASE_BEGINS + SECOND;
    for (let now = this.#nextSaying(); now <= end; now = this.#nextSaying()) {
      for (; second <= now; second += SECOND) {
        this.#pass(second);
        onSecond();
      }
      this.#pass(now);
      for (const said of this.#said) if (said.due === now) this.#say(said, now);
    }
    this.#pass(end);
  }

  #prepare(signal: CaseSignal): SaidSignal {
    const carriers = this.#carriers;
    const period = signal.period === Infinity ? null : signal.period;
    const carrier = carriers.add(-1, 1, oldAgeFor(period, OLD_AGES));
    carriers.claim[carrier] = carrier;
    return {
      ...signal,
      carrier,
      number: -1,
      course: new SignalCourse(signal.steps, signal.facts.decimals),
      due: CASE_BEGINS + (signal.steps[0]?.at ?? Infinity),
    };
  }

  #nextSaying(): Micros {
    return this.#said.reduce((least, { due }) => Math.min(least, due), Infinity);
  }

  #say(said: SaidSignal, now: Micros): void {
    const since = now - CASE_BEGINS;
    const saying = said.course.at(since);
    said.due = CASE_BEGINS + nextSaying(said, since);
    if (saying === null) return;
    this.#store(said, saying, now);
    this.#engines.follow(said.carrier, now);
    if (this.#crankings.isBusy) this.#crankings.take(said.carrier, now);
    this.#timeOfDay.follow(now);
    this.alarms.judge(now);
    this.#collect(now);
  }

  #store(said: SaidSignal, saying: NonNullable<Saying>, now: Micros): void {
    const table = this.#table;
    const { carrier } = said;
    table.carrierHeard[carrier] = now;
    this.#oldAge.begin(carrier, now);
    if (said.number < 0) {
      said.number = table.intern(said.facts);
      table.carriers[said.number] = carrier;
      this.#carriers.signal[this.#carriers.firstSlot[carrier]] = said.number;
      this.#engines.notice(carrier, said.number);
    }
    const isGood = "value" in saying;
    const value = isGood ? saying.value : NaN;
    const quality = isGood ? Quality.good : Quality.bad;
    const reason = isGood ? Reason.none : saying.reason;
    const isSame = Object.is(table.values[said.number], value) &&
      table.qualities[said.number] === quality && table.reasons[said.number] === reason;
    if (!isSame) table.set(said.number, value, quality, reason, now);
  }

  /** Timers due at or before now act in their order: signals, hours, alarms, then answers. */
  #pass(now: Micros): void {
    const answering = this.#answering;
    for (;;) {
      const signals = Math.min(this.#oldAge.nextDue, this.#timers.nextDue);
      const alarms = this.alarms.nextDue;
      const hours = this.#timeOfDay.nextDue;
      const due = Math.min(signals, alarms, hours, answering?.nextDue ?? Infinity);
      if (due > now) break;
      this.timeline.reach(due);
      if (signals === due) {
        this.#age(due);
        this.alarms.judge(due);
      } else if (hours === due) {
        this.#timeOfDay.runTimer();
        this.alarms.judge(due);
      } else if (alarms === due) {
        this.alarms.runTimer();
      } else if (answering !== undefined) {
        this.#takeAnswer(answering, due);
      }
      this.#collect(due);
    }
    this.timeline.reach(now);
  }

  #takeAnswer(answering: Answering, due: Micros): void {
    const answer = answering.take((tag, subject) => this.alarms.occurrenceOf(tag, subject));
    // A case says itself who is aboard, as a signal.
    if (answer.kind === "condition") return;
    const outcome = this.alarms.answer(answer, due);
    if (!outcome.accepted) answering.refused?.(outcome.refused);
  }

  #age(due: Micros): void {
    if (this.#oldAge.nextDue !== due) {
      this.#engines.presumeStopped(this.#timers.take(), due);
      return;
    }
    for (const carrier of this.#oldAge.grownOld()) {
      this.#oldAge.age(carrier, due);
      this.#engines.follow(carrier, due);
    }
  }

  #collect(now: Micros): void {
    for (const change of this.alarms.drainChanges()) {
      this.#changes.push(change);
      this.#answering?.notice(change, now);
    }
  }
}

interface SaidSignal extends CaseSignal {
  readonly carrier: number;
  /** In the table; -1 before it was first said. */
  number: number;
  readonly course: SignalCourse;
  /** When it is said next. */
  due: Micros;
}

/** At the next whole period since the start, or at the next step if that is sooner. */
function nextSaying({ period, steps }: CaseSignal, since: Micros): Micros {
  const step = steps.find(({ at }) => at > since)?.at ?? Infinity;
  // A gap ends where it ends, though no step stands there.
  const gap = steps.flatMap((one) => one.kind === "gap" ? [one.at + one.lasting] : [])
    .find((end) => end > since) ?? Infinity;
  const usual = period === Infinity ? Infinity : (Math.floor(since / period) + 1) * period;
  return Math.min(step, gap, usual);
}
