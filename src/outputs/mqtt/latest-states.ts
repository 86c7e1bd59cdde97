import type { Outgoing } from "./outgoing.ts";

/**
 * Retained states of which only the latest counts: a day without a broker replays none of the old
 * ones. A state is owed until the broker has accepted just that payload.
 */
export class LatestStates {
  readonly #latest = new Map<string, Outgoing>();
  readonly #owed = new Set<string>();

  set(message: Outgoing): void {
    if (this.#latest.get(message.topic)?.payload === message.payload) return;
    this.#latest.set(message.topic, message);
    this.#owed.add(message.topic);
  }

  /** The next few that are owed, in the order in which they changed. */
  next(limit: number): Outgoing[] {
    const messages: Outgoing[] = [];
    for (const topic of this.#owed) {
      if (messages.length === limit) break;
      const message = this.#latest.get(topic);
      if (message !== undefined) messages.push(message);
    }
    return messages;
  }

  /** False when the state has changed since: then the newer one is still owed. */
  accepted(message: Outgoing): boolean {
    if (this.#latest.get(message.topic) !== message) return false;
    this.#owed.delete(message.topic);
    if (message.payload === "") this.#latest.delete(message.topic);
    return true;
  }

  /** A topic that is said in another way now; nothing is owed on it. */
  leave(topic: string): void {
    this.#latest.delete(topic);
    this.#owed.delete(topic);
  }

  /** Everything is owed again: the broker may have forgotten it. */
  oweAll(): void {
    for (const topic of this.#latest.keys()) this.#owed.add(topic);
  }
}
