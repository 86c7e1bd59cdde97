import type { AlarmChange, AlarmStatus, Answer, AnswerOutcome } from "../../src/alarms/change.ts";
import { Quality, Reason } from "../../src/boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../src/boat/signal-table.ts";
import { isoTime, type Micros, SECOND } from "../../src/ground/time.ts";
import type { BrokerState } from "../../src/outputs/mqtt/broker-link.ts";
import { MqttOutlet, type MqttOutletParts } from "../../src/outputs/mqtt/mqtt-outlet.ts";
import { MemoryStore } from "../../src/store/memory-store.ts";
import type { Store } from "../../src/store/store.ts";

/** 2026-06-14T10:12:03.120Z, the time in the contract's example. */
export const MORNING: Micros = 1_781_431_923_120_000;
export const BASE = "sternfast/hazel-comfort/";

/** The outlet with a small boat behind it, and a clock that moves only when it is told to. */
export class MqttBoat {
  now: Micros = MORNING;
  readonly table = new SignalTable();
  readonly states: BrokerState[] = [];
  readonly notices: string[] = [];
  readonly answers: Answer[] = [];
  readonly conditions: string[] = [];
  outcome: AnswerOutcome = { accepted: true };
  #outlet: MqttOutlet | undefined;

  constructor(readonly store: Store = new MemoryStore("00112233aabbccdd")) {}

  get outlet(): MqttOutlet {
    if (this.#outlet === undefined) throw new Error("call connect first");
    return this.#outlet;
  }

  get connected(): boolean {
    return this.states.at(-1)?.state === "connected";
  }

  async connect(
    url: string,
    base = BASE,
    more: Partial<MqttOutletParts> = {},
  ): Promise<void> {
    this.#outlet = await MqttOutlet.open({
      broker: { url },
      base,
      store: this.store,
      table: this.table,
      clock: { steady: () => this.now, wall: () => this.now },
      random: () => 1,
      onAnswer: (answer) => {
        this.answers.push(answer);
        return this.outcome;
      },
      onCondition: ({ condition, who }) => void this.conditions.push(`${condition}, ${who}`),
      onState: (state) => this.states.push(state),
      onNotice: (sentence) => this.notices.push(sentence),
      ...more,
    });
  }

  /** One turn, after a moment. */
  turn(length: Micros = 0): void {
    this.now += length;
    this.outlet.turn({ now: this.now, wallOf: (steady) => steady });
    this.table.clearTouched();
  }

  hear(name: string, value: number, facts: Partial<SignalFacts> = {}): void {
    const signal = this.#signal(name, facts);
    this.table.carrierHeard[this.table.carriers[signal]] = this.now;
    this.table.set(signal, value, Quality.good, Reason.none, this.now);
  }

  lose(name: string): void {
    const signal = this.#signal(name, {});
    this.table.set(signal, NaN, Quality.bad, Reason.notHeard, this.now);
  }

  /** A change that is saved, as `watch` would hand it on. */
  async change(change: Partial<AlarmChange>, statuses?: AlarmStatus[]): Promise<void> {
    await this.store.commit({ changes: [{ ...RAISED, time: this.now, ...change }] }).saved;
    if (statuses !== undefined) this.outlet.alarms(statuses);
    else this.turn();
  }

  stop(): Promise<void> {
    return this.outlet.stop(AbortSignal.timeout(10_000));
  }

  /** As a killed program leaves: without a word. */
  vanish(): Promise<void> {
    return this.outlet.stop(AbortSignal.abort());
  }

  #signal(name: string, facts: Partial<SignalFacts>): number {
    const [group, subject, quantity] = name.split("/");
    const signal = this.table.intern({
      name,
      group,
      subject,
      quantity,
      unit: "Pa",
      decimals: 0,
      words: null,
      span: 400_000,
      derived: false,
      ...facts,
    });
    if (this.table.carriers[signal] < 0) this.table.carriers[signal] = this.table.addCarrier();
    return signal;
  }
}

export const RAISED: AlarmChange = {
  tag: "oil-pressure-low-under-load",
  subject: "port",
  occurrence: 1,
  from: "normal",
  to: "unacknowledged",
  hold: "none",
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  value: 75_800,
  unit: "Pa",
  setpoint: 124_106,
  time: MORNING,
  why: "11 psi is below the limit of 18 psi.",
  by: "",
};

export const STATUS: AlarmStatus = {
  tag: RAISED.tag,
  subject: RAISED.subject,
  title: "Low oil pressure under load",
  state: "unacknowledged",
  hold: "none",
  occurrence: 1,
  priority: "alarm",
  signal: RAISED.signal,
  value: 75_800,
  unit: "Pa",
  setpoint: 124_106,
  raised: MORNING,
  changed: MORNING + SECOND,
  message: "Port oil pressure 11 psi at 1,800 rpm, limit 18.",
  consequence: "The bearings run dry within a minute or two.",
  response: { aboard: "Bring that engine to idle.", ashore: "Call the number on file." },
};

/** An acknowledgement of that alarm, as somebody would send it. */
export function acknowledgement(parts: Record<string, unknown>): string {
  return JSON.stringify({
    id: "a1",
    time: isoTime(MORNING, 3),
    tag: RAISED.tag,
    subject: "port",
    occurrence: 1,
    who: "Ellen",
    ...parts,
  });
}
