import { Buffer } from "node:buffer";
import mqtt, { type IClientOptions, type IPublishPacket, type MqttClient } from "mqtt";
import { type ConnectionProblem, connectionProblem } from "./connection-problem.ts";
import type { Outgoing } from "./outgoing.ts";

export interface BrokerSettings {
  /** `mqtt://HOST:PORT` or `mqtts://HOST:PORT`. */
  readonly url: string;
  readonly user?: string;
  readonly password?: string;
  /** PEM texts; the broker's authority, and our own certificate where the broker wants one. */
  readonly authority?: string;
  readonly certificate?: string;
  readonly key?: string;
  /** The version to begin with; 5 when not given. */
  readonly version?: MqttVersion;
  /** Seconds without a message after which the broker is asked for a sign of life. */
  readonly keepAlive?: number;
}

export type MqttVersion = 5 | 4;

/** What a connection needs to know of who makes it. */
export interface ConnectionParts {
  readonly base: string;
  readonly clientId: string;
  readonly will?: Outgoing;
  /** Topics below the base to listen to. */
  readonly listenTo: string;
}

export interface Received {
  /** Below the base. */
  readonly topic: string;
  readonly text: string;
  readonly retained: boolean;
  readonly responseTopic?: string;
  readonly correlation?: Uint8Array;
}

export interface ConnectionEvents {
  opened(): void;
  received(message: Received): void;
  /** Once, and last; null when we closed it ourselves. */
  closed(problem: ConnectionProblem | null): void;
}

/** Bytes that may wait in the socket before signals are held back. */
const CONGESTION = 256 * 1024;

/**
 * One connection to a broker, from its first packet to its end. It never connects again by itself:
 * when to do so, and what to say then, is the outlet's business.
 */
export class BrokerConnection {
  readonly #client: MqttClient;
  readonly #events: ConnectionEvents;
  #problem: ConnectionProblem | null = null;
  #ended = false;

  constructor(
    readonly settings: BrokerSettings,
    readonly version: MqttVersion,
    readonly parts: ConnectionParts,
    events: ConnectionEvents,
  ) {
    this.#events = events;
    const where = brokerName(settings.url);
    this.#client = mqtt.connect(settings.url, this.#options());
    this.#client.on("connect", () => this.#open());
    this.#client.on("message", (topic, payload, packet) => this.#receive(topic, payload, packet));
    this.#client.on("error", (error) => this.#problem ??= connectionProblem(error, where));
    this.#client.on("disconnect", () => this.#problem ??= connectionProblem(undefined, where));
    this.#client.on("close", () => this.#end(this.#problem ?? connectionProblem(undefined, where)));
  }

  /** Resolves when the broker has accepted the message (QoS 1) or the socket has it (QoS 0). */
  publish(message: Outgoing): Promise<void> {
    const { promise, resolve, reject } = Promise.withResolvers<void>();
    const { qos, retain, payload, correlation } = message;
    const topic = message.absolute === true ? message.topic : this.parts.base + message.topic;
    const properties = correlation === undefined || this.version !== 5
      ? undefined
      : { correlationData: Buffer.from(correlation) };
    this.#client.publish(topic, payload, { qos, retain, properties }, (error) => {
      if (error === undefined || error === null) resolve();
      else reject(error);
    });
    return promise;
  }

  /** The link is slower than what is said: hold back what will be said again anyway. */
  get congested(): boolean {
    return this.#client.stream.writableLength > CONGESTION;
  }

  /** Leaves properly, so that the broker keeps the last will to itself. */
  close(): void {
    this.#problem = null;
    this.#client.end(false, () => this.#end(null));
  }

  /** Leaves at once; what was not acknowledged fails. */
  drop(): void {
    this.#end(null);
  }

  #open(): void {
    // MQTT 5 §3.8.3.1, Retain As Published: a retained command keeps its mark.
    const options = this.version === 5 ? { qos: 1, rap: true } as const : { qos: 1 } as const;
    this.#client.subscribe(this.parts.base + this.parts.listenTo, options, () => {
      if (!this.#ended && this.#client.connected) this.#events.opened();
    });
  }

  #receive(whole: string, payload: Buffer, packet: IPublishPacket): void {
    this.#events.received({
      topic: whole.slice(this.parts.base.length),
      text: payload.toString("utf8"),
      retained: packet.retain,
      responseTopic: packet.properties?.responseTopic,
      correlation: packet.properties?.correlationData,
    });
  }

  #end(problem: ConnectionProblem | null): void {
    if (this.#ended) return;
    this.#ended = true;
    this.#client.end(true);
    this.#events.closed(problem);
  }

  #options(): IClientOptions {
    const { user, password, authority, certificate, key, keepAlive = 30 } = this.settings;
    const { will, base } = this.parts;
    return {
      protocolVersion: this.version,
      clientId: this.parts.clientId,
      clean: true,
      keepalive: keepAlive,
      connectTimeout: 10_000,
      reconnectPeriod: 0,
      resubscribe: false,
      queueQoSZero: false,
      username: user,
      password,
      ca: authority,
      cert: certificate,
      key,
      will: will && {
        topic: base + will.topic,
        payload: Buffer.from(will.payload),
        qos: will.qos,
        retain: will.retain,
      },
    };
  }
}

/** Host and port of a broker's URL, without user and password. */
export function brokerName(url: string): string {
  const parsed = URL.parse(url);
  if (parsed === null) return "the broker";
  const port = parsed.port === "" ? (parsed.protocol === "mqtts:" ? "8883" : "1883") : parsed.port;
  return `${parsed.hostname}:${port}`;
}
