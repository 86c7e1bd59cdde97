import type { SignalTable } from "../boat/signal-table.ts";
import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { keyOf } from "./alarm-key.ts";
import { lifeOf, recordOf, type Told } from "./alarm-memory.ts";
import type { AlarmRecord } from "./alarm-record.ts";
import type { AlarmChange, AlarmStatus } from "./change.ts";
import type { Instance } from "./compile/instance.ts";
import type { Explanation } from "./explanation.ts";
import { judgedUnit, judgedValue, shownLimit } from "./judged-value.ts";
import {
  type AlarmLife,
  isPresent,
  isRisen,
  isTimed,
  NEVER_RAISED,
} from "./life-cycle/alarm-life.ts";
import { LeastRoom } from "./least-room.ts";
import { IDLE } from "./life-cycle/delay.ts";
import type { Manner, Transition } from "./life-cycle/life-cycle.ts";
import type { Measure } from "./measures/measure.ts";
import type { Rule } from "./rules/rule.ts";
import type { Priority } from "./words.ts";

/** The circumstances of a change. */
export interface Circumstances {
  /** In the signal's unit; NaN where there is none, or it is not known. */
  readonly limit: number;
  readonly now: Micros;
  /** Wall time. */
  readonly time: Micros;
  /** A real boat is heard. */
  readonly isProof: boolean;
  readonly message: string;
  readonly why: string;
  readonly explanation: Explanation;
}

/** One rule for one subject: its life, and what it last told. */
export class Alarm {
  /** What tells it from all others. */
  readonly key: string;
  life: AlarmLife = NEVER_RAISED;
  readonly manner: Manner;
  /** Made when there is something to remember. */
  leastRoom: LeastRoom | null = null;
  /** False until listening begins: at 0 what is left of delays and holds is counted from. */
  hasBegun = false;
  #told: Told | null = null;
  /** What its measure had gathered before a restart, while listening has not begun. */
  #gathered: AlarmRecord["measure"] = null;

  constructor(public instance: Instance, readonly table: SignalTable) {
    const { onDelay, offDelay, priority, latching, againAfter, risesAfter } = instance.rule;
    this.key = keyOf({ tag: instance.rule.tag, subject: instance.subject });
    this.manner = {
      onDelay,
      offDelay,
      asksForAnswer: priority !== "caution",
      latches: latching,
      againAfter: againAfter ?? Infinity,
      risesAfter: risesAfter ?? Infinity,
    };
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

  /** An unanswered warning may have risen. */
  get priority(): Priority {
    return isRisen(this.life.state) ? "alarm" : this.rule.priority;
  }

  /** Wall time at which it was last told and asked for an answer; null for never. */
  get soundedAt(): Micros | null {
    return this.#told?.sounded ?? null;
  }

  noticeRoom(room: number, now: Micros): void {
    this.leastRoom ??= new LeastRoom();
    this.leastRoom.notice(room, now);
  }

  /** A built-in caution that another rule cannot be judged. */
  get isAboutWatching(): boolean {
    return this.instance.test.kind === "unjudged";
  }

  /** The condition is regarded as present, and nobody holds it back. */
  get isPresent(): boolean {
    return isPresent(this.life.state) && this.life.hold.kind === "none";
  }

  /** Whether there is anything to keep. */
  get isWorthKeeping(): boolean {
    const { state, hold } = this.life;
    return this.#gathered !== null || hold.kind !== "none" || state.name !== "normal" ||
      state.occurrence > 0 || state.raising.kind !== "idle" || this.#measure !== null;
  }

  /** Goes on as an earlier one; the delays of a rule that was changed begin anew. */
  adopt(earlier: Alarm): void {
    this.leastRoom = earlier.leastRoom;
    this.#told = earlier.#told;
    this.hasBegun = earlier.hasBegun;
    this.#gathered = earlier.#gathered;
    const { state, hold } = earlier.life;
    if (earlier.rule === this.rule) this.life = earlier.life;
    else if ("raising" in state) this.life = { state: { ...state, raising: IDLE }, hold };
    else this.life = { state: { ...state, returning: IDLE }, hold };
  }

  /** Stands as it was kept before a restart; nothing runs until `begin`. */
  recall(record: AlarmRecord): void {
    this.#gathered = record.measure;
    this.life = lifeOf(record, 0);
    this.#told = record.told;
  }

  /** Listening has begun: what is left of delays and holds goes on from now. */
  begin(now: Micros): void {
    if (this.hasBegun) return;
    this.life = lifeOf(this.record(0), now);
    if (this.#gathered !== null) this.#measure?.recall(this.#gathered, now);
    this.#gathered = null;
    this.hasBegun = true;
  }

  record(now: Micros): AlarmRecord {
    const measure = this.#gathered ?? this.#measure?.keep(now) ?? null;
    return recordOf(this, this.life, measure, this.#told, this.hasBegun ? now : 0);
  }

  get #measure(): Measure | null {
    const { test } = this.instance;
    return test.kind === "measured" && test.measure.isKept ? test.measure : null;
  }

  /** Makes the change that a transition is, and remembers it. */
  tell(transition: Transition, circumstances: Circumstances): AlarmChange {
    const { limit, now, time, isProof, message, why, explanation } = circumstances;
    const { instance, table } = this;
    const { signalName, rule } = instance;
    const about = {
      signal: signalName,
      value: judgedValue(instance, table, now),
      unit: judgedUnit(instance, table) ?? this.#told?.unit ?? NO_UNIT,
      setpoint: shownLimit(limit, instance, table),
    };
    const isRaised = transition.cause === "raised";
    this.#told = {
      ...about,
      raised: isRaised ? time : this.#told?.raised ?? null,
      changed: time,
      message: isRaised || this.#told === null ? message : this.#told.message,
      sounded: isProof && transition.isTold && transition.to === "unacknowledged"
        ? time
        : this.#told?.sounded ?? null,
    };
    return {
      tag: rule.tag,
      subject: this.subject,
      occurrence: transition.occurrence,
      from: transition.from,
      to: transition.to,
      hold: transition.hold,
      priority: transition.risen ? "alarm" : rule.priority,
      ...about,
      time,
      why,
      by: transition.by,
      explanation,
    };
  }

  /** @param wallOf wall time of a steady time */
  status(wallOf: (steady: Micros) => Micros): AlarmStatus {
    const { rule, signalName } = this.instance;
    const { state, hold } = this.life;
    const told = this.#told;
    return {
      tag: rule.tag,
      subject: this.subject,
      title: rule.title,
      state: state.name,
      hold: hold.kind,
      ...(isTimed(hold) && this.hasBegun ? { heldUntil: wallOf(hold.until) } : {}),
      occurrence: state.occurrence,
      priority: this.priority,
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
