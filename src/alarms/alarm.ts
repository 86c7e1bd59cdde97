import type { SignalTable } from "../boat/signal-table.ts";
import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import {
  type AlarmRecord,
  begin,
  isWorthKeeping,
  recordOf,
  stateOf,
  type Told,
} from "./alarm-memory.ts";
import type { AlarmChange, AlarmStatus } from "./change.ts";
import type { Instance } from "./compile/instance.ts";
import { IDLE } from "./life-cycle/delay.ts";
import { judgedUnit, judgedValue, shownLimit } from "./judged-value.ts";
import {
  type AlarmState,
  type Manner,
  NEVER_RAISED,
  type Transition,
} from "./life-cycle/life-cycle.ts";
import type { Rule } from "./rules/rule.ts";

/** The circumstances of a change. */
export interface Circumstances {
  /** In the signal's unit; NaN where there is none, or it is not known. */
  readonly limit: number;
  /** Wall time. */
  readonly time: Micros;
  readonly message: string;
  readonly why: string;
}

/** One rule for one subject: its state, and what it last told. */
export class Alarm {
  state: AlarmState = NEVER_RAISED;
  readonly manner: Manner;
  #told: Told | null = null;

  constructor(public instance: Instance, readonly table: SignalTable) {
    const { onDelay, offDelay, priority } = instance.rule;
    this.manner = { onDelay, offDelay, asksForAnswer: priority !== "caution" };
  }

  get rule(): Rule {
    return this.instance.rule;
  }

  get tag(): string {
    return this.rule.tag;
  }

  get subject(): string {
    return this.instance.subject;
  }

  get isWorthKeeping(): boolean {
    return isWorthKeeping(this.state);
  }

  /** Goes on as an earlier one; the delays of a rule that was changed begin anew. */
  adopt(earlier: Alarm): void {
    const { state } = earlier;
    this.#told = earlier.#told;
    if (earlier.rule === this.rule) this.state = state;
    else if ("raising" in state) this.state = { ...state, raising: IDLE };
    else this.state = { ...state, returning: IDLE };
  }

  /** Goes on as it was kept before a restart. */
  recall(record: AlarmRecord): void {
    this.state = stateOf(record);
    this.#told = record.told;
  }

  /** Listening has begun: what is kept of a delay waits for its signal from now. */
  begin(now: Micros): void {
    this.state = begin(this.state, now);
  }

  record(now: Micros): AlarmRecord {
    return recordOf(this, this.state, this.#told, now);
  }

  /** Makes the change that a transition is, and remembers it. */
  tell(transition: Transition, { limit, time, message, why }: Circumstances): AlarmChange {
    const { instance, table } = this;
    const { signalName, rule } = instance;
    const about = {
      signal: signalName,
      value: judgedValue(instance, table),
      unit: judgedUnit(instance, table) ?? this.#told?.unit ?? NO_UNIT,
      setpoint: shownLimit(limit, instance, table),
    };
    const isRaised = transition.cause === "raised";
    this.#told = {
      ...about,
      raised: isRaised ? time : this.#told?.raised ?? time,
      changed: time,
      message: isRaised || this.#told === null ? message : this.#told.message,
    };
    return {
      tag: rule.tag,
      subject: this.subject,
      occurrence: transition.occurrence,
      from: transition.from,
      to: transition.to,
      hold: "none",
      priority: rule.priority,
      ...about,
      time,
      why,
      by: transition.by,
    };
  }

  status(): AlarmStatus {
    const { rule, signalName } = this.instance;
    const told = this.#told;
    return {
      tag: rule.tag,
      subject: this.subject,
      title: rule.title,
      state: this.state.name,
      hold: "none",
      occurrence: this.state.occurrence,
      priority: rule.priority,
      signal: told?.signal ?? signalName,
      value: told?.value ?? null,
      unit: told?.unit ?? judgedUnit(this.instance, this.table) ?? NO_UNIT,
      setpoint: told?.setpoint ?? null,
      raised: told?.raised ?? null,
      changed: told?.changed ?? null,
      message: told?.message ?? "",
      consequence: rule.consequence,
      response: rule.response,
    };
  }
}

const NO_UNIT: UnitCode = "";
