import type { KeptSubscription, PushSubscription } from "./push-subscription.ts";

/** Devices of one person; more are hardly anybody's, and each costs a request for every message. */
const MOST_DEVICES = 20;

/**
 * Which devices have asked to be told, and whose they are. After a change all are given to `keep`.
 */
export class PushSubscriptions {
  /** By the address at the push service. */
  readonly #kept: Map<string, KeptSubscription>;

  constructor(
    kept: readonly KeptSubscription[],
    readonly keep: (kept: readonly KeptSubscription[]) => Promise<void>,
  ) {
    this.#kept = new Map(kept.map((one) => [one.subscription.endpoint, one]));
  }

  of(person: string): readonly PushSubscription[] {
    return [...this.#kept.values()].filter((kept) => kept.person === person)
      .map(({ subscription }) => subscription);
  }

  /**
   * A device is one person's: a later wish takes the place of an earlier one.
   * @throws what `keep` throws; nothing has changed then
   */
  async add(
    person: string,
    subscription: PushSubscription,
  ): Promise<"added" | "too-many"> {
    const { endpoint } = subscription;
    const before = this.#kept.get(endpoint);
    if (before?.person !== person && this.of(person).length >= MOST_DEVICES) return "too-many";
    this.#kept.set(endpoint, { person, subscription });
    try {
      await this.keep([...this.#kept.values()]);
    } catch (error) {
      if (before === undefined) this.#kept.delete(endpoint);
      else this.#kept.set(endpoint, before);
      throw error;
    }
    return "added";
  }

  /** Lets go of a device; one that is not known is no matter. */
  async drop(endpoint: string): Promise<void> {
    if (this.#kept.delete(endpoint)) await this.keep([...this.#kept.values()]);
  }
}
