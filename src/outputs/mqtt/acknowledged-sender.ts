import { backOff } from "../../ground/back-off.ts";
import type { Clock } from "../../ground/clock.ts";
import type { Micros } from "../../ground/time.ts";
import type { Store } from "../../store/store.ts";
import { eventPayload } from "./alarm-payload.ts";
import type { BrokerConnection } from "./broker-connection.ts";
import type { EventOutbox } from "./event-outbox.ts";
import type { HistoryOutbox } from "./history-outbox.ts";
import { LatestStates } from "./latest-states.ts";
import { LINK_INTERVAL, linkPayload } from "./link-payload.ts";
import { happened, type Outgoing, retained } from "./outgoing.ts";
import type { RetainedTopics } from "./retained-topics.ts";

/** Retained states on their way at once. */
const WINDOW = 16;

export interface AcknowledgedSenderParts {
  readonly store: Store;
  readonly outbox: EventOutbox;
  readonly history: HistoryOutbox;
  readonly topics: RetainedTopics;
  readonly clock: Clock;
  /** From 0 to 1, for the jitter between tries. */
  readonly random: () => number;
  /** The open connection, if there is one. */
  readonly connection: () => BrokerConnection | undefined;
  readonly onNotice: (sentence: string) => void;
}

/**
 * What waits for the broker's acknowledgement: events in order, then the latest states, then `link`,
 * then history. All of it stays owed until it is acknowledged, so a broken connection loses nothing.
 *
 * Order of calls: `begin` on each new connection, `wake` whenever something may be owed.
 */
export class AcknowledgedSender {
  readonly states = new LatestStates();
  /** Set once the signals were said on this connection: only then is "connected" true of all. */
  linkMayFollow = false;
  /** Set at the end: history goes out although a pack is not full. */
  hurry = false;
  /** When `link` is to be repeated; -Infinity until it was said on this connection. */
  #linkDue: Micros = -Infinity;
  /** The broker has refused something on this connection; nothing is sent before this time. */
  #heldUntil: Micros = -Infinity;
  #refusals = 0;
  #awake = false;
  #sending: Promise<void> | undefined;

  constructor(readonly parts: AcknowledgedSenderParts) {}

  begin(): void {
    this.states.oweAll();
    this.linkMayFollow = false;
    this.#linkDue = -Infinity;
    this.#heldUntil = -Infinity;
    this.#refusals = 0;
    this.wake();
  }

  wake(): void {
    const connection = this.parts.connection();
    if (connection === undefined) return;
    this.#repeatLink(connection);
    if (this.parts.clock.steady() < this.#heldUntil) return;
    this.#awake = true;
    this.#sending ??= this.#send();
  }

  /** Resolves when nothing more can be sent for now. */
  async idle(): Promise<void> {
    await this.#sending;
  }

  async #send(): Promise<void> {
    while (this.#awake) {
      this.#awake = false;
      const connection = this.parts.connection();
      if (connection === undefined) break;
      try {
        while (await this.#sendSome(connection)) this.#refusals = 0;
      } catch (error) {
        // Everything unanswered stays owed. After a break `begin` wakes us again.
        if (this.parts.connection() === connection) this.#hold(error);
      }
    }
    this.#sending = undefined;
  }

  /** The connection stands, but the broker or the store said no: not again at once. */
  #hold(error: unknown): void {
    const said = error instanceof Error ? error.message : String(error);
    const { clock, random, onNotice } = this.parts;
    this.#heldUntil = clock.steady() + backOff(++this.#refusals, random());
    this.#awake = false;
    onNotice(`Not everything could be sent to the broker (${said}); it is tried again.`);
  }

  /** False when nothing is owed. */
  async #sendSome(connection: BrokerConnection): Promise<boolean> {
    const { store, outbox, history, clock } = this.parts;
    const sent = await outbox.sendSome(
      (event) => connection.publish(happened("event", eventPayload(store.epoch, event))),
      () => clock.wall(),
    );
    if (sent) return true;
    const states = this.states.next(WINDOW);
    await Promise.all(states.map((state) => this.#sendState(connection, state)));
    if (states.length > 0 || await this.#sendLink(connection)) return true;
    return await history.sendSome(
      (pack) => connection.publish(happened("history/pack", pack)),
      clock.steady(),
      this.hurry,
    );
  }

  async #sendState(connection: BrokerConnection, state: Outgoing): Promise<void> {
    const { topics } = this.parts;
    await connection.publish(state);
    if (!this.states.accepted(state) || state.payload !== "") return;
    topics.remove(state.absolute === true ? state.topic : topics.base + state.topic);
  }

  /** The first "connected" on a connection follows everything else. */
  async #sendLink(connection: BrokerConnection): Promise<boolean> {
    if (!this.linkMayFollow || this.#linkDue !== -Infinity) return false;
    this.parts.topics.add("link", { kind: "link" });
    await connection.publish(this.link("connected"));
    this.#linkDue = this.parts.clock.steady() + LINK_INTERVAL;
    return true;
  }

  /** Later ones wait for nothing: a slow disk must not make the boat look lost. */
  #repeatLink(connection: BrokerConnection): void {
    const now = this.parts.clock.steady();
    if (this.#linkDue === -Infinity || now < this.#linkDue) return;
    this.#linkDue = now + LINK_INTERVAL;
    // A failure means that the connection ends; the next one begins with a link of its own.
    connection.publish(this.link("connected")).catch(() => {});
  }

  /** `link` as it is to be said now. */
  link(state: "connected" | "stopped"): Outgoing {
    const { store, outbox, history, clock } = this.parts;
    const told = { epoch: store.epoch, number: outbox.mark, history: history.mark };
    return retained("link", linkPayload(state, clock.wall(), told), 1);
  }
}
