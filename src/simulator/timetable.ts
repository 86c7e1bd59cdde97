import { type Micros, MILLISECOND } from "../ground/time.ts";
import { TimerHeap } from "../ground/timer-heap.ts";
import type { Device } from "./device.ts";
import type { Sending } from "./sending.ts";
import type { Random } from "./random.ts";

/** A device waits this long after its claim for an objection (ISO 11783-5, J1939-81). */
const CLAIM_WAIT = 250 * MILLISECOND;

/** Within this time after its claim a device has sent each of its messages once. */
const FIRST_WORDS = 2500 * MILLISECOND;

/** One line of the timetable. */
export interface Turn {
  readonly device: Device;
  readonly sending: Sending;
  /** Counts the messages of this line. */
  count: number;
  /** When it should be sent, before jitter. */
  due: Micros;
  /** What `Sending.watched` said last. */
  watched: number;
}

/**
 * Who sends what when. A device that comes on the bus claims its address, says what it is, and
 * then sends every message at its period with a little jitter, from a moment of its own.
 */
export class Timetable {
  readonly #turns: Turn[] = [];
  readonly #timers = new TimerHeap();
  readonly #onBus = new Set<Device>();

  constructor(readonly devices: readonly Device[], readonly random: Random) {
    for (const device of devices) {
      for (const sending of device.sendings) {
        this.#turns.push({ device, sending, count: 0, due: 0, watched: 0 });
      }
    }
  }

  get nextDue(): Micros {
    return this.#timers.nextDue;
  }

  /** Looks who came on the bus, who left it, and whose contacts changed. */
  look(now: Micros): void {
    for (const device of this.devices) {
      if (device.talks === this.#onBus.has(device)) continue;
      if (device.talks) this.#join(device, now);
      else this.#leave(device);
    }
    for (const [number, turn] of this.#turns.entries()) {
      const watched = turn.sending.watched?.() ?? 0;
      if (watched === turn.watched) continue;
      turn.watched = watched;
      const joined = turn.count > 0 && this.#onBus.has(turn.device);
      if (!joined) continue;
      const due = now + this.#moment(20 * MILLISECOND);
      this.#schedule(number, due);
      if (turn.sending === turn.device.sendings[0]) this.#hush(turn.device, due);
    }
  }

  /** Who claims another address says nothing from it before it may. */
  #hush(device: Device, claim: Micros): void {
    for (const [number, turn] of this.#of(device)) {
      if (turn.sending === device.sendings[0]) continue;
      const waits = turn.count === 0 || turn.sending.period !== null;
      const from = claim + CLAIM_WAIT;
      if (waits && turn.due < from) this.#schedule(number, from + this.#moment(50 * MILLISECOND));
    }
  }

  /** The next turn; its next one is scheduled. */
  take(): Turn {
    const number = this.#timers.take();
    const turn = this.#turns[number];
    turn.count++;
    if (turn.sending.period !== null) this.#schedule(number, turn.due + turn.sending.period);
    return turn;
  }

  #join(device: Device, now: Micros): void {
    this.#onBus.add(device);
    const claim = now + this.#moment(400 * MILLISECOND);
    for (const [number, { sending }] of this.#of(device)) {
      if (sending === device.sendings[0]) {
        this.#schedule(number, claim);
      } else {
        const spread = Math.min(sending.period ?? FIRST_WORDS, FIRST_WORDS);
        this.#schedule(number, claim + CLAIM_WAIT + this.#moment(spread));
      }
    }
  }

  #leave(device: Device): void {
    this.#onBus.delete(device);
    for (const [number, turn] of this.#of(device)) {
      this.#timers.clear(number);
      turn.count = 0;
    }
  }

  #of(device: Device): [number, Turn][] {
    return [...this.#turns.entries()].filter(([, turn]) => turn.device === device);
  }

  #schedule(number: number, due: Micros): void {
    this.#turns[number].due = due;
    const period = this.#turns[number].sending.period ?? 0;
    const jitter = Math.min(4 * MILLISECOND, period / 50);
    this.#timers.set(number, due + this.#moment(jitter));
  }

  #moment(most: Micros): Micros {
    return Math.floor(this.random.fraction() * most);
  }
}
