import { type Micros, MINUTE } from "../ground/time.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalFacts, SignalTable } from "./signal-table.ts";

/** The boat's condition, as a person sets it (contract §3). */
export const BOAT_CONDITIONS = ["aboard", "left", "anchored", "laid-up"] as const;
export type BoatCondition = (typeof BOAT_CONDITIONS)[number];

/**
 * What a person can say of the boat: her condition, or beside it that she was made ready for frost
 * (water drained, engines laid down), and that she is so no more.
 */
export const BOAT_SAYINGS = [...BOAT_CONDITIONS, "winterised", "not-winterised"] as const;
export type BoatSaying = (typeof BOAT_SAYINGS)[number];

/** What a person has set, as plain data that must survive a restart. */
export interface BoatStateRecord {
  /** Null: nobody has ever set it, which counts as left. */
  readonly condition: BoatCondition | null;
  readonly winterised: boolean;
}

export const NEVER_SET: BoatStateRecord = { condition: null, winterised: false };

/** What is set once a person has said this too. */
export function afterSaying(before: BoatStateRecord, saying: BoatSaying): BoatStateRecord {
  if (saying === "winterised" || saying === "not-winterised") {
    return { ...before, winterised: saying === "winterised" };
  }
  return { ...before, condition: saying };
}

/** Metres a second: one knot, of 1,852 m an hour. */
const WAY = 1852 / 3600;
/** Over ground above one knot for so long is under way (contract §3). */
const STEADY = MINUTE;

const IN_GEAR = ["forward", "reverse"];
const TURNING = ["idling", "running"];
/** Signals by which the boat is known to be under way. */
const FOLLOWED = /^(speed\/over-ground|gearbox\/[^/]+\/gear|engine\/[^/]+\/condition)$/;

/**
 * The signals `boat/condition`, `boat/winterised`, `boat/under-way` and `boat/engines-running` (any of
 * them). No message carries them, so that none of them ages. Order of calls: `follow` after each
 * message and each timer of the signals, before rules judge; `runTimer` when `nextDue` is reached.
 */
export class BoatState {
  nextDue: Micros = Infinity;
  readonly #table: SignalTable;
  readonly #condition: number;
  readonly #winterised: number;
  readonly #underWay: number;
  readonly #enginesRunning: number;
  #record: BoatStateRecord;
  /** By signal: 1 for one that is followed; grows with the table. */
  #followed = new Uint8Array(0);
  #followedCount = 0;
  /** Signals that are looked at; -1 where there is none yet. */
  #overGround = -1;
  /** Conditions of all engines. */
  #engines: readonly number[] = [];
  #gearboxes: readonly { readonly gear: number; readonly engine: number }[] = [];
  /** What the engines and gearboxes said last: see `#anyRuns` and `#isDriven`. */
  #running = NaN;
  #driven: boolean | undefined;

  constructor(table: SignalTable, record: BoatStateRecord, now: Micros) {
    this.#table = table;
    this.#record = record;
    this.#condition = table.intern({
      ...factsOf("condition"),
      unit: "",
      words: new Map(BOAT_CONDITIONS.map((word, code) => [code, word])),
    });
    this.#winterised = table.intern(factsOf("winterised"));
    this.#underWay = table.intern(factsOf("under-way"));
    this.#enginesRunning = table.intern(factsOf("engines-running"));
    this.#sayRecord(now);
  }

  /** What a person has set. */
  get record(): BoatStateRecord {
    return this.#record;
  }

  /** Never set counts as left: nobody aboard. */
  get isNobodyAboard(): boolean {
    const { condition } = this.#record;
    return condition === null || condition === "left" || condition === "laid-up";
  }

  set(saying: BoatSaying, now: Micros): void {
    this.#record = afterSaying(this.#record, saying);
    this.#sayRecord(now);
  }

  #sayRecord(now: Micros): void {
    const { condition, winterised } = this.#record;
    this.#say(this.#condition, BOAT_CONDITIONS.indexOf(condition ?? "left"), now);
    this.#say(this.#winterised, winterised ? 1 : 0, now);
  }

  /** Looks at what is fresh in the table. */
  follow(now: Micros): void {
    const { fresh, freshCount } = this.#table;
    if (this.#followedCount !== this.#table.count) this.#followNewSignals();
    let isSeen = false;
    let isEngine = false;
    for (let f = 0; f < freshCount; f++) {
      if (this.#followed[fresh[f]] === 0) continue;
      isSeen = true;
      if (fresh[f] !== this.#overGround) isEngine = true;
    }
    if (isEngine) this.#lookAtEngines();
    if (isSeen) this.#look(now);
  }

  /** The boat has made way for long enough. */
  runTimer(): void {
    this.#look(this.nextDue);
  }

  #followNewSignals(): void {
    const { facts, values } = this.#table;
    if (this.#followed.length < values.length) {
      const followed = new Uint8Array(values.length);
      followed.set(this.#followed);
      this.#followed = followed;
    }
    for (; this.#followedCount < facts.length; this.#followedCount++) {
      if (FOLLOWED.test(facts[this.#followedCount].name)) this.#follow(this.#followedCount);
    }
    this.#lookUp();
  }

  /** A speed over ground comes often, and names are dear to look up. */
  #lookUp(): void {
    const table = this.#table;
    const engineOf = (name: string) => table.find(`engine/${name}/condition`);
    this.#overGround = table.find("speed/over-ground");
    this.#engines = table.subjectsOf("engine").map(engineOf).filter((signal) => signal >= 0);
    this.#gearboxes = table.subjectsOf("gearbox")
      .map((name) => ({ gear: table.find(`gearbox/${name}/gear`), engine: engineOf(name) }));
    this.#lookAtEngines();
  }

  /** They seldom change; the speed over ground always does. */
  #lookAtEngines(): void {
    this.#running = this.#anyRuns();
    this.#driven = this.#isDriven();
  }

  #follow(signal: number): void {
    this.#followed[signal] = 1;
    this.#table.heed(signal);
  }

  #look(now: Micros): void {
    const speed = this.#goodValue(this.#overGround);
    if (!(speed > WAY)) this.nextDue = Infinity;
    else if (this.nextDue === Infinity && this.#table.values[this.#underWay] !== 1) {
      this.nextDue = now + STEADY;
    }
    this.#say(this.#enginesRunning, this.#running, now);
    const isDriven = this.#driven;
    const isSteady = speed > WAY &&
      (this.nextDue <= now || this.#table.values[this.#underWay] === 1);
    if (isSteady) this.nextDue = Infinity;
    if (isDriven || isSteady) return this.#say(this.#underWay, 1, now);
    this.#say(this.#underWay, Number.isNaN(speed) && isDriven === undefined ? NaN : 0, now);
  }

  /** 1 while any engine idles or runs; NaN while one that was ever heard is not known, and none runs. */
  #anyRuns(): number {
    const conditions = this.#engines.map((signal) => this.#goodWord(signal));
    if (conditions.some((word) => word !== undefined && TURNING.includes(word))) return 1;
    return conditions.length === 0 || conditions.includes(undefined) ? NaN : 0;
  }

  /** In gear and running; undefined where nothing says so of any engine. */
  #isDriven(): boolean | undefined {
    let isDriven: boolean | undefined;
    for (const { gear, engine } of this.#gearboxes) {
      const engaged = this.#goodWord(gear);
      const condition = this.#goodWord(engine);
      if (engaged === undefined || condition === undefined) continue;
      isDriven = isDriven === true || IN_GEAR.includes(engaged) && TURNING.includes(condition);
    }
    return isDriven;
  }

  #goodValue(signal: number): number {
    const isGood = signal >= 0 && this.#table.qualities[signal] === Quality.good;
    return isGood ? this.#table.values[signal] : NaN;
  }

  #goodWord(signal: number): string | undefined {
    const isGood = signal >= 0 && this.#table.qualities[signal] === Quality.good;
    return isGood ? this.#table.word(signal) : undefined;
  }

  #say(signal: number, value: number, now: Micros): void {
    const table = this.#table;
    const isKnown = !Number.isNaN(value);
    const quality = isKnown ? Quality.good : Quality.bad;
    if (Object.is(table.values[signal], value) && table.qualities[signal] === quality) return;
    table.set(signal, value, quality, isKnown ? Reason.none : Reason.notAvailable, now);
  }
}

function factsOf(quantity: string): SignalFacts {
  return {
    name: `boat/${quantity}`,
    group: "boat",
    subject: "",
    quantity,
    unit: "1",
    decimals: 0,
    words: null,
    span: null,
    derived: true,
  };
}
