import { type Clock, isCredible } from "../../../ground/clock.ts";
import type { Micros } from "../../../ground/time.ts";
import type { Document } from "../../../store/store.ts";
import type { PhoneMessage, Way } from "../way.ts";
import { deliver, type DeliveryStep } from "./deliver.ts";
import { AskedWay } from "./asked-way.ts";
import {
  type DeliveryStanding,
  isSettled,
  readToldRecords,
  toldDocument,
  type ToldRecord,
} from "./told-record.ts";

export interface OutboxParts {
  /** By person. */
  readonly ways: ReadonlyMap<string, readonly Way[]>;
  readonly clock: Clock;
  readonly random: () => number;
  readonly wait: (length: Micros, cut: AbortSignal) => Promise<void>;
  readonly onStep: (standing: DeliveryStanding) => void;
  readonly onFault: (error: Error) => void;
  /** What a message says now that it has waited; `isOver`: that everything in it is over. */
  readonly textNow: (record: ToldRecord, age: Micros) => { text: string; isOver: boolean };
  /** What must be kept together with the outcome. */
  readonly onSettled: (
    record: ToldRecord,
    outcome: "accepted" | "accepted-as-was" | "failed",
  ) => readonly Document[];
  readonly keep: (documents: readonly Document[]) => Promise<void>;
}

/** So many settled messages are remembered. */
const REMEMBERED = 100;

/**
 * The messages of all people, each on its own way: a phone that cannot be reached holds up no other,
 * and a message no newer one.
 */
export class Outbox {
  /** By key, in the order in which they were due. */
  readonly #records = new Map<string, ToldRecord>();
  readonly #under = new Map<string, Promise<void>>();
  readonly #ways = new Map<string, readonly AskedWay[]>();
  readonly #stopping = new AbortController();

  constructor(readonly parts: OutboxParts) {
    for (const [person, ways] of parts.ways) {
      this.#ways.set(person, ways.map((way) => new AskedWay(way)));
    }
  }

  get isBusy(): boolean {
    return this.#under.size > 0;
  }

  /** The newest first. */
  standing(): readonly DeliveryStanding[] {
    return [...this.#records.values()].map(({ standing }) => standing).reverse();
  }

  /** A new message; it is sent by `send`, once it is kept. */
  record(message: PhoneMessage, raisings: readonly string[], isAgain: boolean): ToldRecord {
    const { key, boat, person, text } = message;
    const now = this.parts.clock.wall();
    const standing: DeliveryStanding = {
      ...{ key, boat, person, text, way: "", state: "queued", tried: 0, why: "" },
      ...{ due: now, changed: now },
    };
    return { message, raisings, isAgain, standing };
  }

  document(record: ToldRecord): Document {
    return toldDocument(record);
  }

  /** Goes on with what an earlier run has kept. */
  resume(documents: ReadonlyMap<string, string>): void {
    const { clock } = this.parts;
    for (const record of readToldRecords(documents)) {
      this.#records.set(record.message.key, record);
      if (isSettled(record)) continue;
      const { due } = record.standing;
      // How long ago that was, nobody knows who does not know the time.
      const age = isCredible(due) ? Math.max(0, clock.wall() - due) : 0;
      this.#start(record, clock.steady() - age, Promise.resolve());
    }
  }

  /** @param kept resolves when the records are on the disk, or need not be waited for */
  send(records: readonly ToldRecord[], kept: Promise<void>): void {
    for (const record of records) {
      const { key } = record.message;
      if (this.#records.has(key)) continue;
      this.#withdraw(record);
      this.#records.set(key, record);
      this.parts.onStep(record.standing);
      this.#start(record, this.parts.clock.steady(), kept);
    }
  }

  async idle(): Promise<void> {
    await Promise.all(this.#under.values());
  }

  async stop(): Promise<void> {
    this.#stopping.abort();
    await this.idle();
  }

  #start(record: ToldRecord, due: Micros, kept: Promise<void>): void {
    const { key } = record.message;
    const under = kept.then(() => this.#deliver(record, due)).catch(this.parts.onFault)
      .finally(() => this.#under.delete(key));
    this.#under.set(key, under);
  }

  async #deliver({ message, raisings, isAgain }: ToldRecord, due: Micros): Promise<void> {
    const { clock, random, wait, textNow } = this.parts;
    const { key, person } = message;
    const ways = this.#ways.get(person) ?? [];
    let saidOver = false;
    await deliver({
      // Who has not noticed the first way is tried by the next.
      ways: isAgain ? [...ways.slice(1), ...ways.slice(0, 1)] : ways,
      due,
      isUrgent: message.priority === "emergency-alarm" && message.about === "raised",
      steady: () => clock.steady(),
      random,
      wait,
      cut: this.#stopping.signal,
      messageNow: () => {
        const record = this.#records.get(key);
        if (record === undefined) return null;
        const { text, isOver } = textNow({ ...record, raisings }, clock.steady() - due);
        saidOver = isOver;
        return { ...message, text, answers: isOver ? [] : message.answers };
      },
      onStep: (step) => this.#note(key, step, saidOver),
    });
  }

  #note(key: string, step: DeliveryStep, saidOver: boolean): void {
    const record = this.#records.get(key);
    if (record === undefined) return;
    const { parts: { clock, onStep, onSettled, keep } } = this;
    const standing = { ...record.standing, ...changeBy(step), changed: clock.wall() };
    const settled = step.kind === "accepted" || step.kind === "failed";
    // The links have done their work, and need not lie about.
    const message = settled ? { ...record.message, answers: [] } : record.message;
    const next = { ...record, message, standing };
    this.#records.set(key, next);
    onStep(standing);
    if (!settled) return;
    const outcome = step.kind === "accepted" && saidOver ? "accepted-as-was" : step.kind;
    // The store tells of its own trouble.
    keep([toldDocument(next), ...onSettled(next, outcome), ...this.#forget()]).catch(() => {});
  }

  /** A newer message that tells of the same takes the place of one that never got through. */
  #withdraw({ message: { person }, raisings }: ToldRecord): void {
    const older = [...this.#records.values()].filter((record) =>
      record.message.person === person && !isSettled(record) && record.standing.state !== "sent" &&
      record.raisings.length > 0 && record.raisings.every((one) => raisings.includes(one))
    );
    for (const { message: { key } } of older) {
      this.#records.delete(key);
      this.parts.keep([{ kind: "told", key, text: null }]).catch(() => {});
    }
  }

  #forget(): Document[] {
    const settled = [...this.#records.values()].filter(isSettled);
    return settled.slice(0, Math.max(0, settled.length - REMEMBERED)).map(
      ({ message: { key } }) => {
        this.#records.delete(key);
        return { kind: "told", key, text: null };
      },
    );
  }
}

function changeBy(step: DeliveryStep): Partial<DeliveryStanding> {
  const { tried } = step;
  switch (step.kind) {
    case "trying":
      return { state: "sent", way: step.way, tried };
    case "waiting":
      return { state: "queued", way: "", why: step.why, tried };
    case "accepted":
      return { state: "accepted", way: step.way, why: "", tried };
    case "failed":
      return { state: "failed", way: "", why: step.why, tried };
  }
}
