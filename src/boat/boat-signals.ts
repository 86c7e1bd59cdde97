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
import type { Message } from "../nmea2000/message.ts";
import { Binder, type KnownDevices } from "./binder.ts";
import type { Boat } from "./boat.ts";
import { Carriers, MOST_CARRIERS } from "./carriers.ts";
import { CATALOGUE } from "./catalogue.ts";
import { DecodeLoop, MISSING } from "./decode-loop.ts";
import { EngineConditions } from "./engine-conditions.ts";
import { MessageLayouts } from "./message-layouts.ts";
import { OLD_AGES, OldAge, type OldAgeSettings } from "./old-age.ts";
import { SignalMaker } from "./signal-maker.ts";
import { SignalTable } from "./signal-table.ts";
import { NOTHING, streamOf } from "./stream-index.ts";
import type { Sender } from "./subject-match.ts";
import { TwoSenders } from "./two-senders.ts";
import { TwoSendersSignals } from "./two-senders-signals.ts";

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
}

/** Timers by number: two senders by claim, then engines. */
const FIRST_ENGINE_TIMER = MOST_CARRIERS;

export class BoatSignals {
  readonly table = new SignalTable();
  readonly binder: Binder;
  readonly maker: SignalMaker;
  readonly #timers = new TimerHeap();
  readonly #layouts: MessageLayouts;
  readonly #carriers: Carriers;
  readonly #loop: DecodeLoop;
  readonly #oldAge: OldAge;
  readonly #senders: TwoSenders;
  readonly #sendersSignals: TwoSendersSignals;
  readonly #engines: EngineConditions;
  #lastCarrier = -1;

  constructor({ boat, busNames, columns, devices, oldAges = OLD_AGES }: BoatSignalsSetup) {
    const layouts = new MessageLayouts(CATALOGUE, columns);
    const carriers = new Carriers(this.table);
    this.#layouts = layouts;
    this.#carriers = carriers;
    this.binder = new Binder(boat, busNames, devices, columns, layouts, carriers, oldAges);
    this.#oldAge = new OldAge(carriers);
    this.#senders = new TwoSenders(carriers, this.#timers);
    this.#sendersSignals = new TwoSendersSignals(carriers, this.#senders);
    this.#engines = new EngineConditions(carriers, this.#timers, FIRST_ENGINE_TIMER);
    this.maker = new SignalMaker(this.binder, layouts, carriers, this.#engines);
    this.#loop = new DecodeLoop(columns, layouts, carriers, (carrier, slot) => {
      return this.maker.make(carrier, slot);
    });
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
    return this.#senders.version;
  }

  /** Takes a completed message. True when a signal is fresh. */
  take(message: Message, now: Micros): boolean {
    this.#lastCarrier = -1;
    const { row } = message;
    if (row >= 0 && this.#layouts.makesSignals[row] === 1) {
      const carrier = this.#carrierOf(message, row);
      if (carrier >= 0) this.#carry(message, carrier, now);
    }
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
    const signals: number[] = [];
    const carrier = this.#lastCarrier;
    if (carrier < 0) return signals;
    const { firstOperation, slot, bits } = this.#layouts;
    const { layout, firstSlot, lastRaw, signal } = this.#carriers;
    const end = firstOperation[layout[carrier] + 1];
    for (let operation = firstOperation[layout[carrier]]; operation < end; operation++) {
      const first = firstSlot[carrier] + slot[operation];
      if (lastRaw[first] === MISSING) continue;
      const length = bits[operation]?.length ?? 1;
      for (let i = first; i < first + length; i++) if (signal[i] >= 0) signals.push(signal[i]);
    }
    return signals;
  }

  /** Subjects for which two devices speak at this moment. */
  contested(): Contested[] {
    const list: Contested[] = [];
    for (const [claim, { group, name }] of this.binder.claims.entries()) {
      if (this.#senders.contested[claim] === 0) continue;
      const senders = this.#senders.sendersOf(claim)
        .map((carrier) => this.binder.bound[carrier]?.sender)
        .filter((sender) => sender !== undefined);
      list.push({ group, subject: name, senders });
    }
    return list;
  }

  #carrierOf(message: Message, row: number): number {
    const { firstKey, keyAt, keyShift, keyMask, keyWidth } = this.#layouts;
    const { bytes, start, length } = message;
    let key = 0;
    for (let part = firstKey[row]; part < firstKey[row + 1]; part++) {
      const at = keyAt[part];
      if (at >= length) return -1;
      key = (key << keyWidth[part]) | ((bytes[start + at] >> keyShift[part]) & keyMask[part]);
    }
    this.binder.followDevices();
    const stream = streamOf(message.bus, message.pgn, message.source);
    const carrier = this.binder.index.find(stream, key);
    return carrier === NOTHING ? this.binder.bind(row, key, message.bus, message.source) : carrier;
  }

  #carry(message: Message, carrier: number, now: Micros): void {
    const { needsLook, claim } = this.#carriers;
    const admitted = needsLook[carrier] === 0 || this.#look(carrier, now);
    this.table.carrierHeard[carrier] = now;
    this.table.carrierMessages[carrier]++;
    if (!admitted) return;
    this.#lastCarrier = carrier;
    const contested = this.#senders.contested[claim[carrier]] === 1;
    this.#loop.decode(message, carrier, contested, now);
    this.#engines.follow(carrier, now);
  }

  /** What a carrier's first message, or one among two senders', needs. True when its values count. */
  #look(carrier: number, now: Micros): boolean {
    const carriers = this.#carriers;
    const claim = carriers.claim[carrier];
    const { version } = this.#senders;
    this.#oldAge.begin(carrier, now);
    const admitted = this.#senders.admit(carrier, now);
    if (this.#senders.version !== version) this.#followSenders(claim, now);
    if (!admitted) return false;
    carriers.takeOver(carrier);
    carriers.needsLook[carrier] = carriers.shares[carrier] | this.#senders.contested[claim];
    return true;
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
