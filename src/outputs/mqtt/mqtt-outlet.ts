import type { AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Clock } from "../../ground/clock.ts";
import { DAY, type Micros, MINUTE, SECOND } from "../../ground/time.ts";
import type { Store } from "../../store/store.ts";
import { AcknowledgedSender } from "./acknowledged-sender.ts";
import { alarmPayload, alarmTopic } from "./alarm-payload.ts";
import type { BrokerSettings } from "./broker-connection.ts";
import { BrokerLink, type BrokerState } from "./broker-link.ts";
import type { CommandOutcome } from "./command-answer.ts";
import type { ProveToken } from "./answer-by-token.ts";
import { COMMAND_TOPICS, CommandDesk } from "./command-desk.ts";
import type { ConditionCommand, ReceivedCommand, ResendCommand } from "./command-gate.ts";
import { type DeviceFacts, devicePayload, deviceTopic } from "./device-payload.ts";
import { ASHORE, EventOutbox } from "./event-outbox.ts";
import { HistoryOutbox } from "./history-outbox.ts";
import { linkLostPayload } from "./link-payload.ts";
import { type Outgoing, retained } from "./outgoing.ts";
import { type ReportSettings, usualDeadband } from "./report-by-exception.ts";
import { RetainedTopics } from "./retained-topics.ts";
import { readSeen, SEEN_IDS, seenDocument } from "./seen-ids.ts";
import { type OutletTurn, SignalReport } from "./signal-report.ts";

/** After so long everything that is fitted has been heard; what is still missing is gone. */
const SETTLING: Micros = 5 * MINUTE;

/** What is safe ashore can still be asked for, for so long. */
const KEPT_ASHORE: Micros = 30 * DAY;

export const USUAL_REPORT: ReportSettings = {
  fastest: SECOND,
  slowest: 5 * MINUTE,
  deadbandOf: usualDeadband,
};

export interface MqttOutletParts {
  readonly broker: BrokerSettings;
  /** `sternfast/BOAT/`, with the slash. */
  readonly base: string;
  readonly store: Store;
  readonly table: SignalTable;
  readonly clock: Clock;
  readonly random: () => number;
  readonly report?: ReportSettings;
  /** The broker is ashore: what it has accepted is safe. */
  readonly ashore?: boolean;
  /** Proves the token of a link; without it none is taken. */
  readonly proveToken?: ProveToken;
  /** With a key, commands must be signed. */
  readonly commandKey?: string;
  /** False while nobody knows what time it is. */
  readonly clockIsSet?: () => boolean;
  /** A person's answer, for the alarms to accept or refuse. */
  readonly onAnswer: (answer: Answer) => AnswerOutcome | Promise<AnswerOutcome>;
  /** Somebody says who is aboard. */
  readonly onCondition: (command: ConditionCommand) => void | Promise<void>;
  readonly onState: (state: BrokerState) => void;
  /** Sentences for the log: refused commands, and a store that cannot be read. */
  readonly onNotice: (sentence: string) => void;
}

/**
 * The boat on MQTT (contract §4). Signals go out by exception on every turn. Events, then alarm
 * states, then the link pass one sender that waits for the broker's acknowledgement; a broken
 * connection loses none of them. `link` comes last after a reconnect: once it says "connected",
 * every retained value is of now.
 *
 * Order of calls: `open`, then `turn` at least four times a second, `alarms` whenever an alarm has
 * changed and the change is saved, `stop` at the end.
 */
export class MqttOutlet {
  readonly #link: BrokerLink;
  readonly #signals: SignalReport;
  readonly #sender: AcknowledgedSender;
  /** Topics of the alarms that there are; null before the first list. */
  #alarmTopics: ReadonlySet<string> | null = null;
  #began: Micros | undefined;
  #settled = false;
  #tidyDue: Micros = -Infinity;

  private constructor(
    readonly parts: MqttOutletParts,
    readonly topics: RetainedTopics,
    readonly outbox: EventOutbox,
    readonly history: HistoryOutbox,
    seen: readonly string[],
  ) {
    const { base, store, clock, random, broker, onState, onNotice } = parts;
    this.#signals = new SignalReport(parts.table, parts.report ?? USUAL_REPORT, topics);
    this.#sender = new AcknowledgedSender({
      store,
      outbox,
      history,
      topics,
      clock,
      random,
      connection: () => this.#link.connection,
      onNotice,
    });
    const desk = new CommandDesk({
      base,
      epoch: store.epoch,
      key: parts.commandKey,
      seen,
      onSeen: (ids) => store.commit({ documents: [seenDocument(ids)] }),
      proveToken: parts.proveToken,
      onAnswer: parts.onAnswer,
      onCondition: parts.onCondition,
      onResend: (command) => this.#resend(command),
      onReceipt: (command) => this.#noteReceipt(command),
      onRefused: onNotice,
      clock,
      clockIsSet: parts.clockIsSet ?? (() => true),
    });
    this.#link = new BrokerLink({
      settings: broker,
      connection: {
        base,
        clientId: `sternfast-${store.epoch.slice(0, 12)}`,
        will: retained("link", linkLostPayload(), 1),
        listenTo: `${COMMAND_TOPICS}+`,
      },
      clock,
      random,
      onState,
      onOpened: () => this.#begin(),
      onReceived: (message) => {
        desk.take(message).then((answers) => answers.forEach((answer) => this.#say(answer)))
          .catch((error: unknown) => onNotice(`A command could not be answered: ${error}`));
      },
    });
  }

  /** Begins to connect. A broker that is not there is not an error: it is tried again for ever. */
  static async open(parts: MqttOutletParts): Promise<MqttOutlet> {
    const { base, store, ashore = false } = parts;
    const topics = new RetainedTopics(base, await store.documents("retained-topic"));
    const seen = readSeen((await store.documents("fact")).get(SEEN_IDS));
    const outbox = await EventOutbox.open(store, { ashore });
    const { epoch, history } = store;
    const packs = await HistoryOutbox.open({ history, base, epoch, ashore });
    return new MqttOutlet(parts, topics, outbox, packs, seen);
  }

  /** Says what changed among the signals; call it before the table's list of changes is emptied. */
  turn(turn: OutletTurn): void {
    this.#link.tick();
    this.#began ??= turn.now;
    if (!this.#settled && turn.now - this.#began >= SETTLING) {
      this.#settled = true;
      this.#clearGone();
    }
    const connection = this.#link.connection;
    if (connection === undefined || connection.congested) {
      this.#signals.skipTurn();
    } else {
      for (const message of this.#signals.messages(turn)) {
        this.#sender.states.leave(message.topic);
        this.#say(message);
      }
      this.#sender.linkMayFollow = true;
    }
    this.#keepTopics();
    this.#tidy();
    this.#sender.wake();
  }

  /** All alarms as they stand now, after what changed was saved. */
  alarms(statuses: readonly AlarmStatus[]): void {
    for (const status of statuses) {
      const topic = alarmTopic(status);
      this.topics.add(topic, { kind: "alarm" });
      this.#sender.states.set(retained(topic, alarmPayload(status), 1));
    }
    const before = this.#alarmTopics ?? new Set();
    this.#alarmTopics = new Set(statuses.map(alarmTopic));
    // Whatever may still be heard of, a rule that was taken out is gone at once.
    for (const topic of before) if (!this.#alarmTopics.has(topic)) this.#clear(topic);
    if (this.#settled) this.#clearGone();
    this.#keepTopics();
    this.#sender.wake();
  }

  /** Alarms that the disk has not taken in time: their states go ahead of everything. */
  alarmsUnsaved(statuses: readonly AlarmStatus[]): void {
    for (const status of statuses) {
      this.#say(retained(alarmTopic(status), alarmPayload(status), 1));
    }
  }

  /** Devices that are new or have changed; about every five minutes all, for "last heard". */
  devices(devices: readonly DeviceFacts[]): void {
    for (const device of devices) {
      this.topics.add(deviceTopic(device), { kind: "device" });
      this.#sender.states.set(retained(deviceTopic(device), devicePayload(device), 0));
    }
    this.#sender.wake();
  }

  /**
   * Says what is still owed, that no signal is heard any more, and that the boat has stopped.
   * @param patience ends the wait for a broker that is not there or does not answer
   */
  async stop(patience: AbortSignal): Promise<void> {
    const aborted = Promise.withResolvers<void>();
    if (patience.aborted) aborted.resolve();
    patience.addEventListener("abort", () => aborted.resolve(), { once: true });
    await Promise.race([this.#leave(), aborted.promise]);
    this.#keepTopics();
    this.#link.drop();
  }

  async #leave(): Promise<void> {
    await this.#link.decided();
    this.#sender.hurry = true;
    this.#sender.wake();
    await this.#sender.idle();
    const connection = this.#link.connection;
    const wall = this.parts.clock.wall();
    if (connection !== undefined) {
      for (const message of this.#signals.lastMessages(wall)) this.#say(message);
      await connection.publish(this.#sender.link("stopped")).catch(() => {});
    }
    await this.#link.stop();
  }

  async #resend({ of, from, to }: ResendCommand): Promise<CommandOutcome> {
    const range = await (of === "event" ? this.outbox : this.history).resend(from, to);
    if (range === null) {
      return { accepted: false, refused: "None of these is kept here.", from: to + 1 };
    }
    this.#sender.wake();
    return { accepted: true, ...range };
  }

  async #noteReceipt({ number, history }: ReceivedCommand): Promise<CommandOutcome> {
    const { store, clock } = this.parts;
    if (!this.outbox.received(number, clock.wall())) {
      return { accepted: false, refused: `This boat's last event is ${store.lastNumber}.` };
    }
    if (history === null || await this.history.received(history)) return { accepted: true };
    return { accepted: false, refused: `This boat's last sheet is ${store.history.lastSheet}.` };
  }

  #begin(): void {
    this.#signals.beginAnew();
    this.#sender.begin();
  }

  /** Sends without waiting. A failure means that the connection ends, which is told elsewhere. */
  #say(message: Outgoing): void {
    this.#link.connection?.publish(message).catch(() => {});
  }

  /** Clears the topics of signals, alarms and boats that are no more. */
  #clearGone(): void {
    for (const [topic] of this.topics.ofKind("signal")) {
      if (this.parts.table.find(topic) < 0) this.#clear(topic);
    }
    for (const [topic] of this.topics.ofKind("alarm")) {
      if (this.#alarmTopics?.has(topic) === false) this.#clear(topic);
    }
    for (const topic of this.topics.foreign()) {
      this.#sender.states.set({ ...retained(topic, "", 1), absolute: true });
    }
  }

  #clear(topic: string): void {
    this.#sender.states.set(retained(topic, "", 1));
  }

  /** Once a day lets go of events that have been safe ashore for long. */
  #tidy(): void {
    const { clock, store, onNotice } = this.parts;
    if (clock.steady() < this.#tidyDue) return;
    this.#tidyDue = clock.steady() + DAY;
    store.forgetSettled(ASHORE, clock.wall() - KEPT_ASHORE)
      .catch((error: unknown) => onNotice(`Old events could not be let go: ${error}`));
  }

  #keepTopics(): void {
    const documents = this.topics.takeUnsaved();
    if (documents.length > 0) this.parts.store.commit({ documents });
  }
}
