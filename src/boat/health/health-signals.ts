/**
 * Health as ordinary signals, which ordinary rules judge: of each bus, of the devices that the owner
 * wants to hear at all times, and of the computer's clock.
 *
 *     all frames ──▶ BusTraffic ─┐ once a second
 *     messages ──▶ ClockMessages ┼─▶ BusHealth, WatchedDevices ─▶ derived signals
 *     device list ───────────────┘
 *
 * Order of calls: `listen` where time goes on before any frame, `wake` for the first frame of a bus
 * that is not awake, `take` for each message, `count` for the frames before each timer, `runTimer`
 * when `nextDue` comes. While all is quiet there is no timer.
 */
import { type BusNames, MOST_BUSES } from "../../bus/bus-names.ts";
import type { ErrorKind } from "../../bus/error-kinds.ts";
import type { FrameBatch } from "../../bus/frame-batch.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { Columns } from "../../nmea2000/columns.ts";
import type { Message } from "../../nmea2000/message.ts";
import type { Boat } from "../boat.ts";
import type { BoatSignals } from "../boat-signals.ts";
import { topicWord } from "../naming.ts";
import { BUILD_DATE } from "./bus-clock.ts";
import { BusHealth } from "./bus-health.ts";
import { BusSignals } from "./bus-signals.ts";
import { BusTraffic } from "./bus-traffic.ts";
import { ClockMessages } from "./clock-messages.ts";
import { type DeviceHearing, type HeardDevice, WatchedDevices } from "./watched-devices.ts";

/** What is asked about the devices. */
export interface HealthDevices<D extends HeardDevice> extends DeviceHearing<D> {
  /** Addresses at which two devices stay. */
  conflicts(now: Micros): readonly { readonly bus: number; readonly address: number }[];
}

export interface ErrorFrames {
  readonly all: number;
  /** Those within the grace after power-up, which are not judged. */
  readonly atPowerUp: number;
  /** How often each kind was told; one frame may tell of several. */
  readonly kinds: Readonly<Partial<Record<ErrorKind, number>>>;
}

export interface HealthSetup<D extends HeardDevice> {
  readonly boat: Boat;
  readonly busNames: BusNames;
  readonly columns: Columns;
  readonly devices: HealthDevices<D>;
  /** Messages lost so far, 256 senders for each bus. */
  readonly lostBySender: Uint32Array;
  readonly signals: BoatSignals;
  readonly wallOf: (steady: Micros) => Micros;
  /** No time of the bus before this one is believed. */
  readonly notBefore?: Micros;
}

/** NMEA 2000 runs at 250 kbit/s, and so does J1939 unless the boat file says otherwise. */
const USUAL_BIT_RATE = 250_000;

export class HealthSignals<D extends HeardDevice = HeardDevice> {
  nextDue: Micros = Infinity;
  readonly clock: ClockMessages;
  /** By row: 1 for messages that tell the time. */
  readonly #isClockTold: Uint8Array;
  readonly #setup: HealthSetup<D>;
  readonly #traffic = new BusTraffic();
  readonly #buses: BusHealth;
  readonly #watched: WatchedDevices<D>;
  /** By bus, once it was heard. */
  readonly #busSignals: BusSignals[] = [];
  /** Networks of the boat file that were not heard yet, by bus. */
  readonly #unheard: Map<string, string>;
  #isListening = false;
  /** Senders whose address two devices have: bus × 256 + address. */
  #doubted: ReadonlySet<number> = new Set();

  constructor(setup: HealthSetup<D>) {
    this.#setup = setup;
    this.#buses = new BusHealth(this.#traffic, setup.lostBySender);
    this.#watched = new WatchedDevices(setup.boat.devices, setup.devices);
    this.clock = new ClockMessages(setup.columns, setup.notBefore ?? BUILD_DATE);
    this.#isClockTold = this.clock.isTold;
    this.#unheard = new Map(setup.boat.networks.map(({ bus, name }) => [bus, name]));
  }

  /** Somebody listens from now on, perhaps to nothing: `nextDue` may move. */
  listen(now: Micros): void {
    if (this.#isListening) return;
    this.#isListening = true;
    if (this.#unheard.size > 0) this.#setTimer(now);
  }

  /** By bus: 0 where `wake` is to be called for the next frame, before it is looked at. */
  get awake(): Uint8Array {
    return this.#buses.awake;
  }

  /** A bus that was asleep speaks; `nextDue` may move. Seconds are whole ones of steady time. */
  wake(bus: number, now: Micros): void {
    this.#isListening = true;
    this.#buses.wake(bus, now);
    this.#setTimer(now);
  }

  /**
   * Counts frames of any kind, those of a batch from one up to, without, another: before each timer
   * and at the end of the batch. Returns where to go on.
   */
  count(batch: FrameBatch, from: number, to: number): number {
    this.#traffic.count(batch, from, to);
    return to;
  }

  /** Error frames of a bus since listening began. */
  errorFramesOf(bus: number, now: Micros): ErrorFrames {
    return {
      all: this.#traffic.allErrorFrames[bus],
      atPowerUp: this.#buses.errorFramesAtPowerUp(bus, now),
      kinds: this.#traffic.errorKindsOf(bus),
    };
  }

  /** Whether a bus carried any frame that is no error since listening began. */
  hasCarried(bus: number): boolean {
    return this.#traffic.hasCarried[bus] === 1;
  }

  /** How long a bus said nothing before it spoke again, at most. */
  longestGapOf(bus: number): Micros {
    return this.#buses.longestGap(bus);
  }

  /** Reads the clock of messages that have one. */
  take(message: Message, now: Micros): void {
    const { row } = message;
    if (row >= 0 && this.#isClockTold[row] === 1) {
      this.clock.take(message, now, this.#setup.wallOf);
    }
  }

  /** A second has ended. */
  runTimer(): void {
    const now = this.nextDue;
    this.#followConflicts(now);
    for (let bus = 0; bus < MOST_BUSES; bus++) {
      if (this.#buses.awake[bus] === 1) this.#sayBus(bus, now);
    }
    this.#sayUnheard(now);
    this.#sayWatched(now);
    this.#sayClock(now);
    const goesOn = this.#buses.someAwake || this.#watched.someHeard;
    this.nextDue = goesOn ? now + SECOND : Infinity;
  }

  #setTimer(now: Micros): void {
    if (this.nextDue === Infinity) this.nextDue = (Math.floor(now / SECOND) + 1) * SECOND;
  }

  /** A network that the boat file names and nobody hears: dead, or its breaker is off. */
  #sayUnheard(now: Micros): void {
    const { derived } = this.#setup.signals;
    for (const network of this.#unheard.values()) {
      derived.say(derived.make("network", network, "frames"), 0, now);
    }
  }

  #sayBus(bus: number, now: Micros): void {
    const signals = this.#busSignals[bus] ??= this.#signalsOf(bus);
    const second = this.#buses.second(bus, signals.bitRate, now);
    if (second === undefined) return;
    let conflicts = 0;
    for (const sender of this.#doubted) if (sender >> 8 === bus) conflicts++;
    signals.say(second, conflicts, now);
    signals.sayVoltage(this.#setup.signals.supplyVoltage(bus), now);
  }

  #signalsOf(bus: number): BusSignals {
    const { boat, busNames, signals } = this.#setup;
    const busName = busNames.nameOf(bus);
    this.#unheard.delete(busName);
    const network = boat.networks.find((one) => one.bus === busName);
    const { name = topicWord(busName), bitRate = USUAL_BIT_RATE } = network ?? {};
    return new BusSignals(signals.derived, name, bitRate);
  }

  #sayWatched(now: Micros): void {
    const { derived } = this.#setup.signals;
    for (const [name, notHeard] of this.#watched.look(now)) {
      derived.say(derived.make("watched-device", name, "not-heard"), notHeard, now);
    }
  }

  /** The signal is there from the moment when there was something to believe. */
  #sayClock(now: Micros): void {
    if (this.clock.belief.kind === "none") return;
    const { signals, wallOf } = this.#setup;
    const { derived } = signals;
    const signal = derived.make("computer", "", "clock-offset");
    derived.say(signal, this.clock.offset(now, wallOf(now)), now);
  }

  /** What comes from an address that two devices have may be of either. */
  #followConflicts(now: Micros): void {
    const { devices, signals } = this.#setup;
    const conflicts = devices.conflicts(now);
    if (conflicts.length === 0 && this.#doubted.size === 0) return;
    const doubted = new Set(conflicts.map(({ bus, address }) => (bus << 8) | address));
    for (let sender = 0; sender < MOST_BUSES << 8; sender++) {
      if (doubted.has(sender) !== this.#doubted.has(sender)) {
        signals.doubt(sender >> 8, sender & 0xff, doubted.has(sender), now);
      }
    }
    this.#doubted = doubted;
  }
}
