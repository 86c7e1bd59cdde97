import type { AlarmStatus, Answer, AnswerOutcome } from "../../../alarms/change.ts";
import type { BoatSaying } from "../../../boat/boat-state.ts";
import type { Clock } from "../../../ground/clock.ts";
import { isoTime, type Micros, SECOND } from "../../../ground/time.ts";
import type { Store } from "../../../store/store.ts";
import type { UnitCode } from "../../../units/codes.ts";
import { commandHmac } from "../command-hmac.ts";
import { readHistoryPack, type ReadPack } from "../history-payload.ts";
import type { Received } from "../broker-connection.ts";
import { type Followed, followedDocument, readFollowed } from "./followed.ts";
import { GapRequests } from "./gap-requests.ts";
import { NumberedStream } from "./numbered-stream.ts";
import {
  type Link,
  type NumberedChange,
  readAnswer,
  readEvent,
  readLink,
  readStatus,
} from "./read-messages.ts";

export interface BoatFollowerParts {
  /** `sternfast/hazel-comfort/` */
  readonly base: string;
  /** The boat's own store ashore. */
  readonly store: Store;
  readonly clock: Clock;
  /** The boat wants signed commands. */
  readonly key?: string;
  /** Publishes below the base, QoS 1, not retained; false where there is no connection. */
  readonly send: (topic: string, payload: string) => boolean;
  readonly newId: () => string;
  /** The unit in which a signal's history is kept. */
  readonly unitOf: (name: string, senml: string | undefined) => UnitCode;
  readonly onLink: (link: Link, retained: boolean) => void;
  /** Events of the boat were kept. */
  readonly onEvents: () => void;
  readonly onTrouble: (sentence: string) => void;
}

/** What is received is said so at most this often. */
const RECEIPT_EVERY: Micros = 2 * SECOND;
/** A boat that has not answered by then is out of reach. */
const ANSWER_PATIENCE: Micros = 15 * SECOND;

/**
 * One boat, followed from ashore: its events and its history come into a store of the same kind,
 * each once and in order. Repeats are dropped, what is missing is asked for, and what is safe is said
 * so, that the boat can let it go.
 *
 * Order of calls: `open`, `take` for each message below the boat's base, `tick` about once a second.
 */
export class BoatFollower {
  readonly alarms = new Map<string, AlarmStatus>();
  #epoch: string;
  #events: NumberedStream<NumberedChange>;
  #sheets: NumberedStream<ReadPack>;
  readonly #eventGaps = new GapRequests();
  readonly #sheetGaps = new GapRequests();
  /** Saved for certain, and what of it was said. */
  #safe: { event: number; sheet: number };
  #saidSafe = "";
  #receiptDue: Micros = -Infinity;
  #isConnected = false;
  /** Work on the store, one after another. */
  #saving: Promise<void> = Promise.resolve();
  /** Answers of persons that the boat has not yet accepted or refused, by id of the command. */
  readonly #answers = new Map<string, {
    readonly resolve: (outcome: AnswerOutcome) => void;
    readonly due: Micros;
  }>();

  private constructor(readonly parts: BoatFollowerParts, followed: Followed) {
    this.#epoch = followed.epoch;
    this.#safe = { event: followed.event, sheet: followed.sheet };
    this.#events = new NumberedStream(followed.event);
    this.#sheets = new NumberedStream(followed.sheet);
  }

  static async open(parts: BoatFollowerParts): Promise<BoatFollower> {
    return new BoatFollower(parts, readFollowed(await parts.store.documents("fact")));
  }

  /** The epoch that is followed, and how far. */
  get followed(): Followed {
    return { epoch: this.#epoch, ...this.#safe };
  }

  /** @param message its topic is below the boat's base */
  take({ topic, text, retained }: Received): void {
    if (topic === "link") return this.#takeLink(text, retained);
    if (topic === "event") return this.#takeEvent(text);
    if (topic === "history/pack") return this.#takePack(text);
    if (topic.startsWith("alarm/")) return this.#takeAlarm(topic, text);
    if (topic.startsWith("command-answer/")) this.#takeAnswer(topic, text);
  }

  tick(): void {
    const now = this.parts.clock.steady();
    this.#giveUpAnswers(now);
    if (!this.#isConnected) return;
    const events = this.#eventGaps.next(this.#events.missing, now, this.parts.newId);
    if (events !== undefined) this.#command("resend", { ...this.#timed(), ...events });
    const sheets = this.#sheetGaps.next(this.#sheets.missing, now, this.parts.newId);
    if (sheets !== undefined) {
      this.#command("resend", { ...this.#timed(), of: "history", ...sheets });
    }
    this.#sayReceived(now);
  }

  /** Hands a person's answer to the boat; what the boat says comes back. */
  answer({ kind, ...answer }: Answer): Promise<AnswerOutcome> {
    const length = "length" in answer ? { length: `${answer.length / SECOND} s` } : {};
    return this.#ask(kind, { ...answer, ...length });
  }

  /** Tells the boat who is aboard, or whether she is winterised. */
  setCondition(condition: BoatSaying, who: string): Promise<AnswerOutcome> {
    return this.#ask("condition", { condition, who });
  }

  /** Hands the token of a link to the boat, which alone can prove it. */
  relay(token: string, command: "acknowledge" | "shelve"): Promise<AnswerOutcome> {
    return this.#ask(command, { token });
  }

  /** Resolves when everything taken so far is saved. */
  async idle(): Promise<void> {
    await this.#saving;
  }

  #takeLink(text: string, retained: boolean): void {
    const link = readLink(text);
    if (link === undefined) return;
    const wasConnected = this.#isConnected;
    this.#isConnected = link.state === "connected";
    this.parts.onLink(link, retained);
    if (link.epoch === undefined) return;
    this.#follow(link.epoch);
    this.#events.noteLast(link.number ?? 0);
    this.#sheets.noteLast(link.history ?? 0);
    this.#saidSafe = "";
    if (!this.#isConnected || wasConnected) return;
    this.#eventGaps.hasten();
    this.#sheetGaps.hasten();
  }

  #takeEvent(text: string): void {
    const read = readEvent(text);
    if (read === undefined) return this.parts.onTrouble("An event makes no sense and is left out.");
    this.#follow(read.epoch);
    this.#keepEvents(this.#events.take(read.number, read.number, read));
  }

  #takePack(text: string): void {
    const pack = readHistoryPack(text, this.parts.base, this.parts.unitOf);
    if (pack === undefined) return this.parts.onTrouble("A pack of history makes no sense.");
    this.#follow(pack.epoch);
    this.#keepSheets(this.#sheets.take(pack.from, pack.to, pack));
  }

  #takeAlarm(topic: string, text: string): void {
    const status = text === "" ? undefined : readStatus(topic, text);
    if (status === undefined) this.alarms.delete(topic);
    else this.alarms.set(topic, status);
  }

  #takeAnswer(topic: string, text: string): void {
    const id = topic.slice("command-answer/".length);
    const answer = readAnswer(text);
    if (answer === undefined) return;
    const { accepted, refused = "" } = answer;
    this.#answers.get(id)?.resolve(accepted ? { accepted } : { accepted, refused });
    this.#answers.delete(id);
    const events = this.#eventGaps.goneBy(id, answer);
    if (events > 0) this.#keepEvents(this.#events.giveUp(events));
    const sheets = this.#sheetGaps.goneBy(id, answer);
    if (sheets > 0) this.#keepSheets(this.#sheets.giveUp(sheets));
  }

  #giveUpAnswers(now: Micros): void {
    for (const [id, { due, resolve }] of this.#answers) {
      if (now < due) continue;
      this.#answers.delete(id);
      resolve({ accepted: false, refused: "The boat did not answer. It may be out of reach." });
    }
  }

  /** A boat with a new epoch has a new state folder: its numbers begin anew. */
  #follow(epoch: string): void {
    if (epoch === this.#epoch) return;
    this.#epoch = epoch;
    this.#events = new NumberedStream(0);
    this.#sheets = new NumberedStream(0);
    this.#safe = { event: 0, sheet: 0 };
  }

  #keepEvents(ready: readonly NumberedChange[]): void {
    const followed = { epoch: this.#epoch, event: this.#events.last };
    this.#save(async () => {
      const changes = ready.map(({ change }) => change);
      const documents = [followedDocument({ ...followed, sheet: this.#safe.sheet })];
      await this.parts.store.commit({ changes, documents }).saved;
      this.parts.onEvents();
      if (followed.epoch === this.#epoch) this.#safe.event = followed.event;
    });
  }

  #keepSheets(ready: readonly ReadPack[]): void {
    const followed = { epoch: this.#epoch, sheet: this.#sheets.last };
    this.#save(async () => {
      for (const { records } of ready) await this.parts.store.history.add(records, false);
      const documents = [followedDocument({ ...followed, event: this.#safe.event })];
      await this.parts.store.commit({ documents }).saved;
      if (followed.epoch === this.#epoch) this.#safe.sheet = followed.sheet;
    });
  }

  /** What could not be kept is asked for again: both streams begin anew behind what is safe. */
  #save(work: () => Promise<void>): void {
    this.#saving = this.#saving.then(work).catch((error: unknown) => {
      const said = error instanceof Error ? error.message : String(error);
      this.parts.onTrouble(`What came from the boat could not be kept: ${said}`);
      this.#events = this.#events.again(this.#safe.event);
      this.#sheets = this.#sheets.again(this.#safe.sheet);
    });
  }

  #sayReceived(now: Micros): void {
    const { event, sheet } = this.#safe;
    const receipt = { epoch: this.#epoch, number: event, history: sheet };
    if (now < this.#receiptDue || this.#saidSafe === JSON.stringify(receipt)) return;
    this.#receiptDue = now + RECEIPT_EVERY;
    if (this.#command("received", receipt)) this.#saidSafe = JSON.stringify(receipt);
  }

  #ask(command: string, fields: Record<string, unknown>): Promise<AnswerOutcome> {
    const id = this.parts.newId();
    const { promise, resolve } = Promise.withResolvers<AnswerOutcome>();
    this.#answers.set(id, { resolve, due: this.parts.clock.steady() + ANSWER_PATIENCE });
    this.#command(command, { id, ...this.#timed(), ...fields });
    return promise;
  }

  #command(name: string, fields: Record<string, unknown>): boolean {
    const { base, key, send } = this.parts;
    const topic = `command/${name}`;
    const hmac = key === undefined ? undefined : commandHmac(base + topic, fields, key);
    return send(topic, JSON.stringify({ ...fields, hmac }));
  }

  #timed() {
    return { time: isoTime(this.parts.clock.wall(), 3), epoch: this.#epoch };
  }
}
