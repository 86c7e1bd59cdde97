import type { Clock } from "../../../ground/clock.ts";
import type { BrokerSettings, Received } from "../broker-connection.ts";
import { BrokerLink, type BrokerState } from "../broker-link.ts";
import { happened } from "../outgoing.ts";

export interface ShoreLinkParts {
  readonly broker: BrokerSettings;
  /** What stands before the boat's name: `sternfast/`. */
  readonly root: string;
  /** Only this boat; every one below the root when not given. */
  readonly boat?: string;
  readonly clientId: string;
  readonly clock: Clock;
  readonly random: () => number;
  readonly onState: (state: BrokerState) => void;
  /** @param message its topic is below the boat's base */
  readonly onReceived: (boat: string, message: Received) => void;
}

/** The connection of `ashore`: everything that boats say, by boat. `tick` keeps it alive. */
export class ShoreLink {
  readonly #link: BrokerLink;

  constructor(parts: ShoreLinkParts) {
    const { broker, root, boat = "+", clientId, clock, random, onState, onReceived } = parts;
    this.#link = new BrokerLink({
      settings: broker,
      connection: { base: root, clientId, listenTo: `${boat}/#` },
      clock,
      random,
      onState,
      onOpened: () => {},
      onReceived: (message) => {
        const end = message.topic.indexOf("/");
        if (end <= 0) return;
        const topic = message.topic.slice(end + 1);
        onReceived(message.topic.slice(0, end), { ...message, topic });
      },
    });
  }

  /** False where there is no connection. A failure means that the connection ends, told elsewhere. */
  send(boat: string, topic: string, payload: string): boolean {
    const { connection } = this.#link;
    connection?.publish(happened(`${boat}/${topic}`, payload)).catch(() => {});
    return connection !== undefined;
  }

  tick(): void {
    this.#link.tick();
  }

  async stop(): Promise<void> {
    await this.#link.stop();
  }
}
