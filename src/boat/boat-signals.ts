/**
 * Messages become the boat's named signals with unit, quality and age.
 *
 *     message ─▶ stream index ─▶ carrier ─▶ decode loop ─▶ signal table ─▶ derived signals
 *                    │ not yet known                            ▲
 *                    └─▶ binder (boat file, devices)     old age, two senders
 *
 * Order of calls: `take` after each message, `runTimer` for each timer due before it; then whoever
 * judges reads `table.fresh`. No clock is read here.
 */
import type { BusNames } from "../bus/bus-names.ts";
import { TimerHeap } from "../ground/timer-heap.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import { groupCount } from "../nmea2000/groups.ts";
import type { Message } from "../nmea2000/message.ts";
import { Binder, type KnownDevices } from "./binder.ts";
import type { Boat } from "./boat.ts";
import { Carriers, MOST_CARRIERS } from "./carriers.ts";
import { CATALOGUE } from "./catalogue.ts";
import { CrankingVoltages } from "./cranking-voltages.ts";
import { DecodeLoop, MISSING } from "./decode-loop.ts";
import { DerivedSignals } from "./derived-signals.ts";
import { EngineConditions } from "./engine-conditions.ts";
import { SupplyVoltage } from "./health/supply-voltage.ts";
import { MessageKeys } from "./message-keys.ts";
import { MessageLayouts, Taking } from "./message-layouts.ts";
import { NoFix } from "./no-fix.ts";
import { OLD_AGES, OldAge, type OldAgeSettings } from "./old-age.ts";
import { SharedRivals } from "./shared-rivals.ts";
import { SharedSignals } from "./shared-signals.ts";
import { SignalMaker } from "./signal-maker.ts";
import { SignalTable } from "./signal-table.ts";
import { NOTHING, streamOf } from "./stream-index.ts";
import type { Sender } from "./subject-match.ts";
import { TroubleCodeSignals } from "./trouble-code-signals.ts";
import { TwoSenders } from "./two-senders.ts";
import { TwoSendersSignals } from "./two-senders-signals.ts";
import { UnnamedBuses } from "./unnamed-buses.ts";

export interface BoatSignalsSetup {
  readonly boat: Boat;
  readonly busNames: BusNames;
  readonly columns: Columns;
  readonly devices: KnownDevices;
  readonly oldAges?: OldAgeSettings;
}

/** A subject for which two devices speak. */
export interface Contested {
  readonly group: string;
  readonly subject: string;
  /** The first is the one whose values are shown. */
  readonly senders: readonly Sender[];
  /** Some may be another subject's: the message that tells the course tells the speed too. */
  readonly signals: readonly number[];
}

/** Timers by number: two senders by claim, then engines. */
const FIRST_ENGINE_TIMER = MOST_CARRIERS;

/** Groups of a message that are read; alternating current has three lines. */
const MOST_GROUPS = 16;

export class BoatSignals {
  readonly table = new SignalTable();
  readonly binder: Binder;
  readonly maker: SignalMaker;
  /** For what is worked out from more than messages. */
  readonly derived: DerivedSignals;
  readonly #timers = new TimerHeap();
  readonly #columns: Columns;
  readonly #layouts: MessageLayouts;
  readonly #keys: MessageKeys;
  readonly #carriers: Carriers;
  readonly #loop: DecodeLoop;
  readonly #oldAge: OldAge;
  readonly #senders: TwoSenders;
  readonly #sendersSignals: TwoSendersSignals;
  readonly #engines: EngineConditions;
  readonly #crankings: CrankingVoltages;
  readonly #shared: SharedSignals;
  readonly #rivals: SharedRivals;
  readonly #noFix: NoFix;
  readonly #troubleCodes: TroubleCodeSignals;
  readonly #supply: SupplyVoltage;
  readonly #unnamedBuses: UnnamedBuses;
  /** Carriers of the message taken last: one, or one for each group. */
  readonly #carriedBy = new Int16Array(MOST_GROUPS);
  #carriedCount = 0;

  constructor({ boat, busNames, columns, devices, oldAges = OLD_AGES }: BoatSignalsSetup) {
    const layouts = new MessageLayouts(CATALOGUE, columns);
    const carriers = new Carriers(this.table);
    this.#columns = columns;
    this.#layouts = layouts;
    this.#keys = new MessageKeys(layouts.keys);
    this.#carriers = carriers;
    this.binder = new Binder(boat, busNames, devices, columns, layouts, carriers, oldAges);
    this.derived = new DerivedSignals(carriers);
    this.#unnamedBuses = new UnnamedBuses(this.derived);
    this.#supply = new SupplyVoltage(carriers);
    this.#oldAge = new OldAge(carriers);
    this.#senders = new TwoSenders(carriers, this.#timers);
    this.#sendersSignals = new TwoSendersSignals(carriers, this.#senders);
    this.#crankings = new CrankingVoltages(this.table, this.derived, boat);
    this.#engines = new EngineConditions(
      carriers,
      this.#timers,
      FIRST_ENGINE_TIMER,
      this.#crankings,
    );
    this.#shared = new SharedSignals(carriers);
    this.maker = new SignalMaker(this.binder, layouts, carriers, this.#shared, this.#engines);
    const { binder, maker } = this;
    this.#troubleCodes = new TroubleCodeSignals(
      columns,
      layouts,
      carriers,
      binder,
      (carrier, slot, facts) => maker.give(carrier, slot, facts),
    );
    this.#loop = new DecodeLoop(columns, layouts, carriers, (carrier, slot) => {
      return this.maker.make(carrier, slot);
    });
    this.#noFix = new NoFix(carriers, layouts);
    this.#rivals = new SharedRivals(
      carriers,
      this.#shared,
      (carrier, slot) => this.#loop.isValue(carrier, slot),
      (carrier) => this.#isDoubted(carrier),
      (signal, isContested, now) => this.#sendersSignals.followShared(signal, isContested, now),
    );
    for (const { group, name } of boat.subjects) this.table.addSubject(group, name);
  }

  /** When `runTimer` is due; Infinity when nothing ages. */
  get nextDue(): Micros {
    const age = this.#oldAge.nextDue;
    const timer = this.#timers.nextDue;
    return age < timer ? age : timer;
  }

  /** Goes up whenever `contested` becomes another list. */
  get contestedVersion(): number {
    return this.#senders.version + this.#rivals.version;
  }

  /** Takes a completed message. True when a signal is fresh. */
  take(message: Message, now: Micros): boolean {
    this.#carriedCount = 0;
    const { row } = message;
    if (row < 0) return false;
    const taking = this.#layouts.taking[row];
    if (taking === Taking.whole) this.#takeWhole(message, now);
    else if (taking === Taking.groups) this.#takeGroups(message, now);
    else if (taking === Taking.troubleCodes) this.#takeTroubleCodes(message, now);
    return this.table.freshCount > 0;
  }

  /** Runs the next timer, at its own due time; first what grows old, then what is settled. */
  runTimer(): void {
    const due = this.nextDue;
    if (due === Infinity) return;
    if (this.#oldAge.nextDue === due) {
      for (const carrier of this.#oldAge.grownOld()) this.#growOld(carrier, due);
      return;
    }
    const timer = this.#timers.take();
    if (timer < FIRST_ENGINE_TIMER) this.#settle(timer, due);
    else this.#engines.presumeStopped(timer - FIRST_ENGINE_TIMER, due);
  }

  /** How long a signal may stay unheard before it is bad; Infinity: for ever. */
  oldAgeOf(signal: number): Micros {
    const carrier = this.table.carriers[signal];
    return carrier < 0 ? SECOND : this.#carriers.oldAge[carrier];
  }

  /** Signals of the message taken last, in the order of its fields; empty when it brought none. */
  carried(): number[] {
    const carriers = [...this.#carriedBy.subarray(0, this.#carriedCount)];
    return carriers.flatMap((carrier) => this.#carriedOf(carrier));
  }

  /** The lowest supply that a device of a bus tells, in volts; undefined where none does. */
  supplyVoltage(bus: number): number | undefined {
    return this.#supply.lowest(bus);
  }

  /** Two devices have, or no longer have, one address: what comes from there is uncertain. */
  doubt(bus: number, address: number, doubted: boolean, now: Micros): void {
    const { bus: buses, doubted: marks, layout, needsLook, source } = this.#carriers;
    for (let carrier = 0; carrier < this.table.carrierCount; carrier++) {
      if (layout[carrier] < 0 || buses[carrier] !== bus || source[carrier] !== address) continue;
      marks[carrier] = doubted ? 1 : 0;
      needsLook[carrier] = 1;
      if (this.#senders.contested[this.#carriers.claim[carrier]] === 1) continue;
      this.#senders.doubt(carrier, doubted, now);
      this.#engines.follow(carrier, now);
    }
  }

  /** Subjects for which two devices speak at this moment. */
  contested(): Contested[] {
    const list: Contested[] = [];
    for (const [claim, { group, name }] of this.binder.claims.entries()) {
      if (this.#senders.contested[claim] === 0) continue;
      const carriers = this.#senders.sendersOf(claim);
      const senders = this.#sendersOf(carriers);
      const brought = carriers.flatMap((carrier) => this.#carriers.signalsOf(carrier));
      list.push({ group, subject: name, senders, signals: [...new Set(brought)] });
    }
    for (const { signal, carriers } of this.#rivals.contests) {
      const { group, subject } = this.table.facts[signal];
      list.push({ group, subject, senders: this.#sendersOf(carriers), signals: [signal] });
    }
    return list;
  }

  #sendersOf(carriers: readonly number[]): Sender[] {
    return carriers.map((carrier) => this.binder.bound[carrier]?.sender)
      .filter((sender) => sender !== undefined);
  }

  #takeWhole(message: Message, now: Micros): number {
    const key = this.#keys.ofMessage(message);
    return key < 0 ? -1 : this.#carry(message, key, now);
  }

  /** Each group is read like a message of its own that begins where the group does. */
  #takeGroups(message: Message, now: Micros): void {
    const { row, bytes, start, length } = message;
    const group = this.#columns.groups[row];
    if (group === null) return;
    const count = Math.min(groupCount(this.#columns, row, bytes, start, length), MOST_GROUPS);
    for (let number = 0; number < count; number++) {
      const from = start + group.start + number * group.length;
      const key = this.#keys.ofGroup(message, from);
      if (key < 0) return;
      this.#carry(partOf(message, from, group.length), key, now);
    }
  }

  #takeTroubleCodes(message: Message, now: Micros): void {
    const carrier = this.#takeWhole(message, now);
    if (carrier < 0) return;
    const active = this.#troubleCodes.take(message, carrier, this.#isDoubted(carrier), now);
    // An empty list is sent once; only one with codes is repeated (SAE J1939-73).
    this.#oldAge.change(carrier, active ? this.binder.usualOldAge(carrier) : Infinity, now);
  }

  /** Reads a message into its carrier's signals: the carrier, or -1 where its values do not count. */
  #carry(message: Message, key: number, now: Micros): number {
    this.binder.followDevices();
    const { bus, pgn, source } = message;
    const found = this.binder.index.find(streamOf(bus, pgn, source), key);
    const carrier = found === NOTHING ? this.#bind(message, key, now) : found;
    if (carrier < 0) return -1;
    const isPlain = this.#carriers.needsLook[carrier] === 0;
    const admitted = isPlain || this.#look(message, carrier, now);
    this.table.carrierHeard[carrier] = now;
    this.table.carrierMessages[carrier]++;
    if (!admitted) return -1;
    this.#carriedBy[this.#carriedCount++] = carrier;
    this.#loop.decode(message, carrier, !isPlain && this.#isDoubted(carrier), now);
    const { layout, shares } = this.#carriers;
    if (this.#noFix.isPlace[layout[carrier]] === 1) this.#noFix.follow(carrier, now);
    if (shares[carrier] === 1) this.#rivals.follow(carrier, now);
    this.#engines.follow(carrier, now);
    if (this.#crankings.isBusy) this.#crankings.take(carrier, now);
    return carrier;
  }

  #bind({ bus, row, source }: Message, key: number, now: Micros): number {
    const carrier = this.binder.bind(row, key, bus, source);
    this.#unnamedBuses.follow(this.binder.busInName.unnamed, now);
    return carrier;
  }

  #isDoubted(carrier: number): boolean {
    const { claim, doubted } = this.#carriers;
    return this.#senders.contested[claim[carrier]] === 1 || doubted[carrier] === 1;
  }

  /** What a carrier's first message, or one among two senders', needs. True when its values count. */
  #look(message: Message, carrier: number, now: Micros): boolean {
    const carriers = this.#carriers;
    const claim = carriers.claim[carrier];
    const { version } = this.#senders;
    this.#oldAge.begin(carrier, now);
    const speaks = carriers.rank[carrier] === 0 || this.#loop.hasValue(message, carrier);
    const admitted = this.#senders.admit(carrier, speaks, now);
    if (this.#senders.version !== version) this.#followSenders(claim, now);
    if (!admitted) return false;
    if (carriers.shares[carrier] === 1) this.#shared.settle(carrier);
    carriers.takeOver(carrier);
    const { doubted, shares } = carriers;
    carriers.needsLook[carrier] = shares[carrier] | this.#senders.contested[claim] |
      doubted[carrier];
    return true;
  }

  #carriedOf(carrier: number): number[] {
    const signals: number[] = [];
    const { firstOperation, operations, bits } = this.#layouts;
    const { layout, firstSlot, lastRaw, signal } = this.#carriers;
    const end = firstOperation[layout[carrier] + 1];
    for (let operation = firstOperation[layout[carrier]]; operation < end; operation++) {
      const first = firstSlot[carrier] + operations[operation].slot;
      if (lastRaw[first] === MISSING) continue;
      const length = bits[operation]?.length ?? 1;
      for (let i = first; i < first + length; i++) if (signal[i] >= 0) signals.push(signal[i]);
    }
    const codes = signal.subarray(this.#troubleCodes.firstSlot(carrier), firstSlot[carrier + 1]);
    return [...signals, ...codes.filter((code) => code >= 0)];
  }

  #growOld(carrier: number, due: Micros): void {
    if (!this.#senders.leavesUnheard(carrier)) return;
    // Where two spoke, the signals are still those of the first.
    const holder = this.#senders.holder[this.#carriers.claim[carrier]];
    this.#oldAge.age(holder, due);
    this.#engines.follow(holder, due);
  }

  #settle(claim: number, due: Micros): void {
    if (this.#senders.settle(claim, due)) this.#followSenders(claim, due);
  }

  #followSenders(claim: number, now: Micros): void {
    this.#sendersSignals.follow(claim, this.binder.claims[claim], now);
    this.#engines.follow(this.#senders.holder[claim], now);
  }
}

function partOf(message: Message, start: number, length: number): Message {
  const { bus, bytes, destination, pgn, row, source } = message;
  return { bus, bytes, destination, pgn, row, source, start, length };
}
