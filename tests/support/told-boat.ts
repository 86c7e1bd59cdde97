import type { AlarmChange } from "../../src/alarms/change.ts";
import type { AlarmStateName, Priority } from "../../src/alarms/words.ts";
import { type Micros, MINUTE, parseIsoTime, SECOND } from "../../src/ground/time.ts";
import type { DeliveryStanding } from "../../src/outputs/phones/delivery/told-record.ts";
import { Phones } from "../../src/outputs/phones/phones.ts";
import type { Person } from "../../src/outputs/phones/telling/person.ts";
import type { PhoneMessage, SendOutcome, Way } from "../../src/outputs/phones/way.ts";
import { MemoryStore } from "../../src/store/memory-store.ts";
import type { Store } from "../../src/store/store.ts";
import { VirtualTime } from "./virtual-time.ts";

/** What a way does with a message at this moment; after how long it says so. */
export type Behaviour = (
  message: PhoneMessage,
  now: Micros,
) => { readonly outcome: SendOutcome; readonly after?: Micros };

/** A way whose service behaves as told, and remembers what it took. */
export class ServedWay implements Way {
  readonly taken: { readonly at: Micros; readonly message: PhoneMessage }[] = [];
  asked = 0;

  constructor(
    readonly name: string,
    readonly time: VirtualTime,
    public behaviour: Behaviour = () => ({ outcome: { kind: "accepted" } }),
  ) {}

  async send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome> {
    this.asked++;
    const { outcome, after = 0 } = this.behaviour(message, this.time.steady());
    if (after > 0) await this.time.wait(after, cut);
    if (cut.aborted) return { kind: "try-again", why: "cut" };
    if (outcome.kind === "accepted") this.taken.push({ at: this.time.steady(), message });
    return outcome;
  }
}

export const NOON = parseIsoTime("2026-06-14T11:00:00Z") ?? 0;
export const WANTS: readonly Priority[] = ["emergency-alarm", "alarm", "warning"];

/** A boat whose alarms are saved and told, all by virtual time. */
export class ToldBoat {
  readonly steps: DeliveryStanding[] = [];
  readonly store: Store;
  readonly time: VirtualTime;
  phones: Phones | undefined;

  constructor(
    readonly people: readonly (Person & { readonly ways: readonly Way[] })[],
    { time, store = new MemoryStore("00112233aabbccdd") }: { time: VirtualTime; store?: Store },
  ) {
    this.time = time;
    this.store = store;
  }

  async open(): Promise<void> {
    this.phones = await Phones.open({
      people: this.people,
      store: this.store,
      clock: this.time,
      timeZone: "Europe/London",
      boatOf: () => "Hazel Comfort",
      statusOf: () => undefined,
      whereabouts: () => "ashore",
      random: () => 1,
      wait: this.time.wait,
      onStep: (standing) => this.steps.push(standing),
      onFault(error) {
        throw error;
      },
    });
  }

  /** A change is saved, and told. */
  async change(
    tag: string,
    from: AlarmStateName,
    to: AlarmStateName,
    more: Partial<AlarmChange> = {},
  ): Promise<void> {
    const change = { ...CHANGE, tag, from, to, time: this.time.wall(), why: `${tag}.`, ...more };
    await this.store.commit({ changes: [change] }).saved;
    this.phones?.wake();
    await this.time.pass(0);
  }

  raise(tag: string, priority: Priority = "alarm"): Promise<void> {
    return this.change(tag, "normal", "unacknowledged", { priority });
  }

  end(tag: string, priority: Priority = "alarm"): Promise<void> {
    return this.change(tag, "unacknowledged", "returned-unacknowledged", { priority });
  }

  answer(tag: string): Promise<void> {
    return this.change(tag, "unacknowledged", "acknowledged");
  }
}

/** `12:03:10` of virtual time since the beginning: `3:10`. */
export function clockOf(time: Micros): string {
  const seconds = Math.floor(time / SECOND) % 60;
  return `${Math.floor(time / MINUTE)}:${String(seconds).padStart(2, "0")}`;
}

const CHANGE: AlarmChange = {
  tag: "",
  subject: "aft",
  occurrence: 1,
  from: "normal",
  to: "normal",
  hold: "none",
  priority: "alarm",
  signal: "bilge/aft/float",
  value: 1,
  unit: "1",
  setpoint: null,
  time: 0,
  why: "",
  by: "",
};
