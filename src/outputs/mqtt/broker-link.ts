import { backOff } from "../../ground/back-off.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MINUTE } from "../../ground/time.ts";
import {
  BrokerConnection,
  brokerName,
  type BrokerSettings,
  type ConnectionParts,
  type MqttVersion,
  type Received,
} from "./broker-connection.ts";
import type { ConnectionProblem } from "./connection-problem.ts";

/** How things stand with the broker, for the page, the status line and `computer/broker-link`. */
export type BrokerState =
  | { readonly state: "connecting"; readonly broker: string }
  | { readonly state: "connected"; readonly broker: string; readonly version: MqttVersion }
  /** `why` is a clause: `nothing listens at localhost:1883`. */
  | {
    readonly state: "away";
    readonly broker: string;
    readonly why: string;
    readonly nextTry: Micros;
  }
  | { readonly state: "stopped"; readonly broker: string };

export interface BrokerLinkParts {
  readonly settings: BrokerSettings;
  readonly connection: ConnectionParts;
  readonly clock: Clock;
  /** From 0 to 1, for the jitter between tries. */
  readonly random: () => number;
  readonly onState: (state: BrokerState) => void;
  readonly onOpened: (connection: BrokerConnection) => void;
  readonly onReceived: (message: Received) => void;
}

/**
 * Keeps one connection to the broker alive: tries again with back-off, for ever, and with
 * MQTT 3.1.1 where the broker does not know MQTT 5. It has no timer: `tick` moves it on.
 */
export class BrokerLink {
  /** The open connection, if there is one. */
  connection: BrokerConnection | undefined;
  readonly #broker: string;
  #version: MqttVersion;
  #current: BrokerConnection | undefined;
  #failures = 0;
  #nextTry: Micros = Infinity;
  #stopped = false;
  #hasLeft = false;
  #undecided = Promise.withResolvers<void>();
  readonly #left = Promise.withResolvers<void>();

  constructor(readonly parts: BrokerLinkParts) {
    this.#broker = brokerName(parts.settings.url);
    this.#version = parts.settings.version ?? 5;
    this.#connect();
  }

  /** Tries again when it is time to. */
  tick(): void {
    if (this.parts.clock.steady() < this.#nextTry) return;
    this.#undecided = Promise.withResolvers<void>();
    this.#connect();
  }

  /** Resolves once the try that is under way has succeeded or failed. */
  decided(): Promise<void> {
    return this.#undecided.promise;
  }

  /** Leaves properly; resolves when the socket is closed. */
  async stop(): Promise<void> {
    this.#stopped = true;
    this.#nextTry = Infinity;
    if (this.#current === undefined) this.#leave();
    else this.#current.close();
    await this.#left.promise;
  }

  /** Leaves at once, and the broker sends the last will. */
  drop(): void {
    this.#stopped = true;
    this.#nextTry = Infinity;
    if (this.#current === undefined) this.#leave();
    else this.#current.drop();
  }

  #connect(): void {
    this.#nextTry = Infinity;
    this.parts.onState({ state: "connecting", broker: this.#broker });
    const { settings, connection, onReceived } = this.parts;
    this.#current = new BrokerConnection(settings, this.#version, connection, {
      opened: () => this.#opened(),
      received: onReceived,
      closed: (problem) => this.#closed(problem),
    });
  }

  #opened(): void {
    if (this.#current === undefined) return;
    this.#failures = 0;
    this.connection = this.#current;
    this.parts.onState({ state: "connected", broker: this.#broker, version: this.#version });
    this.parts.onOpened(this.connection);
    this.#undecided.resolve();
  }

  #closed(problem: ConnectionProblem | null): void {
    this.connection = undefined;
    this.#current = undefined;
    if (this.#stopped) return this.#leave();
    if (problem?.olderProtocol === true && this.#version === 5) {
      this.#version = 4;
      return this.#connect();
    }
    const wait = backOff(++this.#failures, this.parts.random(), MINUTE);
    this.#nextTry = this.parts.clock.steady() + wait;
    const why = problem?.why ?? `the connection to ${this.#broker} was lost`;
    this.parts.onState({ state: "away", broker: this.#broker, why, nextTry: this.#nextTry });
    this.#undecided.resolve();
  }

  #leave(): void {
    if (this.#hasLeft) return;
    this.#hasLeft = true;
    this.parts.onState({ state: "stopped", broker: this.#broker });
    this.#undecided.resolve();
    this.#left.resolve();
  }
}
